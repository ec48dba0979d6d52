import type { HeatInputs } from '@soakbench/core/heat';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';

/** What the heat model of an assessed build is calibrated on. */
export function heatInputs(build: Build, { compare, probes, runs }: Assessment): HeatInputs {
  const { main, others } = compare;
  return {
    build,
    contests: main === null ? others : [main, ...others],
    corrections: probes.corrections,
    runs: runs.runs,
  };
}
