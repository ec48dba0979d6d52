import { formatCelsius } from '@soakbench/core/measure';
import type { Build, Run } from '@soakbench/core/records';
import type { RunResult } from '@soakbench/core/runs';
import { readingsOfRun } from '@soakbench/core/verdict';
import { useMemo } from 'preact/hooks';
import { runName } from '../parts/names.js';
import { Section } from '../parts/section-figure.js';

interface ProbesInSectionProps {
  readonly build: Build;
  readonly run: Run;
  readonly result: RunResult;
}

/** The section with what the probes of one run settled at, in the room as it was. */
export function ProbesInSection({ build, run, result }: ProbesInSectionProps) {
  const readings = useMemo(() => readingsOfRun(result), [result]);
  const settled = result.plateaus.find((each) => each.phase === 'load' && each.result.ok);
  const ambient_C = settled?.result.ok ? settled.result.value.ambient_C : null;
  const room = ambient_C === null ? 'not known' : formatCelsius(ambient_C);
  return (
    <Section
      build={build}
      setup={run.setup}
      readings={readings}
      rows={[
        ['Run', `${runName(run)}, load`],
        ['Room', room],
      ]}
      heading={
        <>
          <h2>Where the probes sat, and what they read</h2>
          <p class="lead">
            Settled readings of {runName(run)} under load{ambient_C === null ? '' : `, room at ${room}`}.
          </p>
        </>
      }
    />
  );
}
