import { found, refused } from '../measure/index.js';
import type { Correction } from '../probes/index.js';
import type { Build, Run } from '../records/index.js';
import { averageBlocks, type Blocks } from './block-means.js';
import { findLoop_s } from './find-loop.js';
import { findPhases } from './find-phases.js';
import { findPlateau } from './find-plateau.js';
import { flagRun, notedAmbientU_K } from './flag-run.js';
import type { LogBytes } from './read-log.js';
import { readSeries } from './read-series.js';
import type { Phase, RunResult, RunSeries } from './run-result.js';
import { sketchSettling } from './settling-fit.js';

/**
 * Everything one run says: its phases, the settled rise of every probe of the device in idle and under load, and the flags.
 *
 * @throws BadInputError where the log cannot be read by the run's recipe
 */
export function measureRun(
  build: Pick<Build, 'probes'>,
  run: Run,
  corrections: readonly Correction[],
  bytes: LogBytes,
): RunResult {
  const { series, report } = readSeries(build, run, corrections, bytes);
  const ambient = ambientOf(build, run, series);
  const device = series.channels.filter(({ probe }) => placeOf(build, probe) !== 'ambient');
  const rises = device.map(({ level_C }) =>
    level_C.map((level, i) => level - (ambient === null ? 0 : (ambient.level_C[i] as number))),
  );
  const searched = run.phases === undefined ? findPhases(series.after_s, rises) : null;
  const phases: readonly Phase[] =
    searched?.phases ??
    (run.phases ?? []).map(({ kind, from_s, to_s }) => ({ kind, from_s, to_s, by: 'person' as const }));
  const load = phases.find(({ kind }) => kind === 'load');
  const loop_s = load === undefined ? null : loopOf(series.after_s, rises, load);

  const plateaus: RunResult['plateaus'][number][] = [];
  for (const { probe, level_C } of device) {
    // The load tells the time constant best; idle then follows the room with it.
    let lag_s: number | null = null;
    for (const kind of ['load', 'idle'] as const) {
      const phase = phases.find((candidate) => candidate.kind === kind);
      if (phase === undefined) continue;
      if (ambient === null) {
        plateaus.push({ probe, phase: kind, result: refused({ kind: 'no-ambient' }) });
        continue;
      }
      const result = findPlateau({
        probe,
        after_s: series.after_s,
        level_C,
        ambient_C: ambient.level_C,
        ambient_u_K: ambient.u_K,
        phase: { ...phase, kind },
        loop_s: kind === 'load' ? loop_s : null,
        lag_s,
      });
      if (kind === 'load' && result.ok) lag_s = result.value.timeConstants.at(-1)?.tau_s ?? null;
      plateaus.push({ probe, phase: kind, result });
    }
  }
  const seen = {
    run,
    probes: build.probes,
    series,
    report,
    phases,
    loop_s,
    plateaus,
    withoutStep: searched?.withoutStep ?? false,
  };
  const flags = flagRun(seen);
  const counted = judgeCount(build, run, plateaus, flags);
  return {
    run: run.id,
    setup: run.setup,
    session: run.session,
    mounting: run.mounting,
    charging: run.conditions?.charging ?? false,
    report,
    startedAt: run.startedAt ?? series.startedAt,
    span_s: series.after_s.at(-1) as number,
    phases,
    loop_s,
    plateaus,
    flags,
    counted: counted.ok,
    whyNot: counted.ok ? null : counted.reason.why,
  };
}

function placeOf(build: Pick<Build, 'probes'>, probe: string) {
  return build.probes.find(({ id }) => id === probe)?.place;
}

function ambientOf(build: Pick<Build, 'probes'>, run: Run, series: RunSeries) {
  const logged = series.channels.find(({ probe }) => placeOf(build, probe) === 'ambient');
  if (logged !== undefined) return { level_C: logged.level_C, u_K: 0 };
  const noted_C = run.conditions?.ambient_C;
  if (noted_C === undefined) return null;
  return {
    level_C: new Float64Array(series.after_s.length).fill(noted_C),
    u_K: run.conditions?.ambient_u_K ?? notedAmbientU_K,
  };
}

/** Points a load is reduced to while its loop is sought: 24 s each in two hours. */
const loopPoints = 300;

/** The loop shows best where the load itself is: at the probe that the run moves most. */
function loopOf(after_s: Float64Array, rises: readonly Float64Array[], load: Phase): number | null {
  let liveliest: { points: Blocks; range_K: number } | null = null;
  for (const rise of rises) {
    const points = averageBlocks(after_s, rise, load.from_s, load.to_s, loopPoints);
    if (points.level.length < loopPoints / 15) continue;
    const range_K = Math.max(...points.level) - Math.min(...points.level);
    if (liveliest === null || range_K > liveliest.range_K) liveliest = { points, range_K };
  }
  if (liveliest === null) return null;
  const t_s = liveliest.points.after_s.map((at) => at - load.from_s);
  const sketch = sketchSettling(t_s, liveliest.points.level, null);
  return sketch === null ? null : findLoop_s(t_s, sketch.residuals);
}

function judgeCount(
  build: Pick<Build, 'probes'>,
  run: Run,
  plateaus: RunResult['plateaus'],
  flags: RunResult['flags'],
) {
  if (run.setAside !== undefined) {
    // As the end of a sentence, whether or not the person wrote it as one.
    return refused({ kind: 'set-aside', why: run.setAside.trim().replace(/\.$/, '') || 'set aside' });
  }
  const grave = flags.find((flag) => flag.level === 'stop' && flag.kind !== 'too-short');
  if (grave !== undefined) return refused({ kind: 'flag', why: grave.title });
  const cells = plateaus.filter(({ probe, phase }) => phase === 'load' && placeOf(build, probe) === 'cell');
  if (cells.some(({ result }) => result.ok)) return found(true);
  return refused({
    kind: 'no-plateau',
    why: cells.length === 0 ? 'no cell probe in the log' : 'no plateau at any cell probe',
  });
}
