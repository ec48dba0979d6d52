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
  return (
    <Section
      build={build}
      setup={run.setup}
      readings={readings}
      rows={[
        ['Run', `${runName(run)}, load`],
        ...(ambient_C === null ? [] : ([['Room', formatCelsius(ambient_C)]] as const)),
      ]}
      heading={
        <>
          <h2>Where the probes sat, and what they read</h2>
          <p class="lead">
            {ambient_C === null
              ? `No probe settled under load in ${runName(run)}.`
              : `Settled readings of ${runName(run)} under load, room at ${formatCelsius(ambient_C)}.`}
          </p>
        </>
      }
    />
  );
}
