import type { HeatInputs } from '../heat/index.js';
import type { Build } from '../records/index.js';
import { everyContest } from './every-contest.js';
import type { Assessment } from './verdict.js';

/** What the heat model of an assessed build is calibrated on: every contest, what is known of the probes, and the runs. */
export function heatInputs(
  build: Build,
  { compare, probes, runs }: Pick<Assessment, 'compare' | 'probes' | 'runs'>,
): Required<HeatInputs> {
  return {
    build,
    contests: everyContest(compare),
    corrections: probes.corrections,
    runs: runs.runs,
  };
}
