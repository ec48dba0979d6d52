import { type Contest, expectReading, type Margin } from '../compare/index.js';
import { formatKelvin } from '../measure/index.js';
import type { Correction } from '../probes/index.js';
import type { Build } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import type { SectionReading } from './section-parts.js';

/** What the probes of a run settled at in one phase. */
export function readingsOfRun(
  result: Pick<RunResult, 'plateaus'>,
  phase: 'idle' | 'load' = 'load',
): SectionReading[] {
  return result.plateaus.flatMap((each) =>
    each.phase === phase && each.result.ok
      ? [{ probe: each.probe, level_C: each.result.value.level_C, u_K: each.result.value.rise_K.u }]
      : [],
  );
}

/**
 * What every probe is expected to read with one set-up at the design ambient, under load and not charging, after one further
 * mounting: the same number as in the margins. Cells also say how far they are from the lowest limit that holds while discharging.
 *
 * @returns nothing without a design ambient
 */
export function readingsAtDesignAmbient(
  build: Pick<Build, 'designAmbient' | 'probes' | 'limits'>,
  corrections: readonly Correction[],
  contests: readonly Contest[],
  margins: readonly Margin[],
  setup: string,
): SectionReading[] {
  const ambient_C = build.designAmbient?.ambient_C;
  if (ambient_C === undefined) return [];
  const limits = margins
    .filter(
      (margin) =>
        margin.setup === setup &&
        margin.use === 'discharging-load' &&
        margin.limit.where === 'cell' &&
        margin.limit.level === 'stop',
    )
    .map((margin) => margin.limit.limit_C);
  const limit_C = limits.length > 0 ? Math.min(...limits) : null;
  return contests.flatMap((contest) => {
    const { quantity, setups } = contest;
    const rise = setups.find((each) => each.setup === setup);
    if (quantity.phase !== 'load' || quantity.charging || rise === undefined) return [];
    const { value: level_C, u } = expectReading(build, contests, corrections, contest, rise, ambient_C);
    const isCell = build.probes.find((probe) => probe.id === quantity.probe)?.place === 'cell';
    const reading: SectionReading = { probe: quantity.probe, level_C, u_K: u };
    if (!isCell || limit_C === null) return [reading];
    const words = `${formatKelvin(Math.abs(limit_C - level_C))} ${level_C > limit_C ? 'above' : 'below'}`;
    return [{ ...reading, sub: `${words} limit`, shortSub: words }];
  });
}
