/** What only shows beside the other runs: probes that seem to have changed places, and a load that was another one. */
import { type Estimate, formatKelvin, formatNumber } from '../measure/index.js';
import { median } from '../numerics/index.js';
import type { Build, Run } from '../records/index.js';
import { type RunFlag, type RunResult, sortFlags } from './run-result.js';

/** Spread of a rise from run to run of one set-up. @assumed 0.5 K, as between mountings of thin shields; common practice, no source */
const runToRun_K = 0.5;

/**
 * How much likelier the readings must be with two probes exchanged, as a natural logarithm, to say so: 2 for a look, 5 not to
 * count the run.
 * @assumed among three runs at the assumed spread, 4000 drawn: places 1 K apart exchanged are seen in 49 %, honest runs doubted in 0.8 %
 *   and left out in 0.08 %; 2 K apart 98 %, 0.05 % and none; 4 K apart all, none and none
 */
const likelier = { look: 2, stop: 5 };

/** Places whose rises differ by less cannot be told apart by their rises; exchanging them does no harm either. */
const leastApart_K = 0.7;

/** Loads that differ by more than this share from the usual one make rises that do not compare. @assumed 2 %: half a kelvin in 25 */
const unequalShare = 0.02;

/** The runs again, with flags that need the others to be seen. A run that is left out by one of them says why. */
export function crossCheckRuns(
  build: Pick<Build, 'probes' | 'runs'>,
  results: readonly RunResult[],
): RunResult[] {
  const seen = results.map((result) => ({ result, rises: risesOf(result) }));
  const loads = new Map(build.runs.map(({ id, conditions }) => [id, conditions]));
  const usual_W = usualLoad_W(
    results.flatMap(({ run, counted }) => (counted ? (loads.get(run)?.load_W ?? []) : [])),
  );
  return seen.map(({ result, rises }) => {
    // Runs that should read alike: same set-up, same charging, counted.
    const peers = seen.filter(
      ({ result: other }) =>
        other !== result &&
        other.counted &&
        other.setup === result.setup &&
        other.charging === result.charging,
    );
    const swap = result.counted
      ? findSwap(
          build,
          rises,
          peers.map((peer) => peer.rises),
        )
      : [];
    const noted = findUnequalLoad(result, loads.get(result.run), usual_W);
    const unlike = result.counted
      ? findUnlikeLoad(
          build,
          { rises, load_W: loads.get(result.run)?.load_W },
          peers.map((peer) => ({ rises: peer.rises, load_W: loads.get(peer.result.run)?.load_W })),
        )
      : [];
    const flags = [...swap, ...noted, ...unlike];
    if (flags.length === 0) return result;
    const grave = flags.find(({ level }) => level === 'stop');
    return {
      ...result,
      flags: sortFlags([...flags, ...result.flags]),
      counted: result.counted && grave === undefined,
      whyNot: result.whyNot ?? grave?.title ?? null,
    };
  });
}

type Rises = ReadonlyMap<string, Estimate>;

/** Rises of the probes on the device, by phase and probe. */
function risesOf({ plateaus }: RunResult): Rises {
  return new Map(
    plateaus.flatMap(({ probe, phase, result }) =>
      result.ok ? [[`${phase} ${probe}`, result.value.rise_K]] : [],
    ),
  );
}

/**
 * Whether two probes fit the set-up's other runs better with their rises exchanged. Each phase in which both have a plateau
 * adds to the likelihood; the median of the peers is what is expected.
 *
 * @source [NEYMAN-PEARSON-33] likelihood ratio of two simple hypotheses, normal errors of equal size
 */
function findSwap(build: Pick<Build, 'probes'>, mine: Rises, peers: readonly Rises[]): RunFlag[] {
  if (peers.length === 0) return [];
  const expected = (key: string): number | null => {
    const values = peers.flatMap((rises) => rises.get(key)?.value ?? []);
    return values.length === 0 ? null : median(values);
  };
  const probes = build.probes.filter(({ place }) => place !== 'ambient');
  let best: { names: string; evidence: number; apart_K: number } | null = null;
  for (const [i, one] of probes.entries()) {
    for (const other of probes.slice(i + 1)) {
      let evidence = 0;
      let apart_K = 0;
      for (const phase of ['idle', 'load']) {
        const [a, b] = [mine.get(`${phase} ${one.id}`), mine.get(`${phase} ${other.id}`)];
        const [e, f] = [expected(`${phase} ${one.id}`), expected(`${phase} ${other.id}`)];
        if (a === undefined || b === undefined || e === null || f === null) continue;
        // The expectation is a median of so many runs, and as uncertain as they are.
        const variance = runToRun_K ** 2 * (1 + 1 / peers.length) + (a.u ** 2 + b.u ** 2) / 2;
        const straight = (a.value - e) ** 2 + (b.value - f) ** 2;
        const exchanged = (a.value - f) ** 2 + (b.value - e) ** 2;
        evidence += (straight - exchanged) / (2 * variance);
        apart_K = Math.max(apart_K, Math.abs(e - f));
      }
      if (apart_K < leastApart_K || evidence < likelier.look) continue;
      if (best === null || evidence > best.evidence)
        best = { names: `${one.name} and ${other.name}`, evidence, apart_K };
    }
  }
  if (best === null) return [];
  const isGrave = best.evidence >= likelier.stop;
  return [
    {
      kind: 'probe-swap',
      level: isGrave ? 'stop' : 'look',
      title: 'probe swap suspected',
      detail: `${best.names} fit the other runs of this set-up better with their readings exchanged; they usually read ${formatKelvin(best.apart_K)} apart`,
      effect: isGrave
        ? 'not counted: look which channel each probe was on, and correct the columns'
        : `a swap would shift each by ${formatKelvin(best.apart_K)}; look which channel each was on`,
    },
  ];
}

/** The load that runs usually have, W; null where too few say theirs. */
function usualLoad_W(loads: readonly number[]): number | null {
  return loads.length < 3 ? null : median(loads);
}

/** Whether the load that was noted differs from the usual one, and what that does to the rise. */
function findUnequalLoad(result: RunResult, noted: Run['conditions'], usual_W: number | null): RunFlag[] {
  const mine_W = noted?.load_W;
  if (mine_W === undefined || usual_W === null) return [];
  const excess = mine_W / usual_W - 1;
  const doubt = (2 * (noted?.load_u_W ?? 0)) / usual_W;
  if (!(Math.abs(excess) > Math.max(unequalShare, doubt))) return [];
  const rises = result.plateaus.flatMap(({ phase, result: plateau }) =>
    phase === 'load' && plateau.ok ? [plateau.value.rise_K.value] : [],
  );
  const shift_K = Math.max(0, ...rises) * Math.abs(excess);
  return [
    {
      kind: 'unequal-load',
      level: 'look',
      title: 'another load',
      detail: `${formatNumber(mine_W, 1)} W as noted, where the runs usually had ${formatNumber(usual_W, 1)} W`,
      effect: `rises ${excess > 0 ? 'higher' : 'lower'} by up to ${formatKelvin(shift_K)} for that alone; compare per watt`,
    },
  ];
}

/** How far the hottest place must be off, in standard deviations, before the load is doubted. @assumed */
const unlikeBy = 4;
/** How far each other place may be from what the same share of heat would do to it, in standard deviations. @assumed */
const alikeWithin = 2.5;

interface Seen {
  readonly rises: Rises;
  readonly load_W: number | undefined;
}

/**
 * Whether all places of a run are warmer, or all cooler, than in the set-up's other runs by one and the same share: a load that was
 * another one than noted. A mounting moves the pack's places, not the device's hottest one, and hardly all by one share.
 *
 * It needs two other runs that agree, or it could not be told which of them is odd. The run still counts: leaving out what disagrees
 * would make the spread look smaller than it is.
 */
function findUnlikeLoad(build: Pick<Build, 'probes'>, mine: Seen, peers: readonly Seen[]): RunFlag[] {
  const u_K = runToRun_K * Math.sqrt(1 + 1 / peers.length);
  const places = build.probes.flatMap(({ id, place }) => {
    const rise_K = mine.rises.get(`load ${id}`)?.value;
    if (place === 'ambient' || rise_K === undefined) return [];
    // Where both powers are noted, a rise is expected to follow them.
    const others_K = peers.flatMap(({ rises, load_W }) => {
      const other = rises.get(`load ${id}`)?.value;
      return other === undefined
        ? []
        : [other * ((mine.load_W ?? 1) / (mine.load_W === undefined ? 1 : (load_W ?? mine.load_W)))];
    });
    if (others_K.length < 2 || Math.max(...others_K) - Math.min(...others_K) > unlikeBy * runToRun_K)
      return [];
    return [{ rise_K, expected_K: median(others_K) }];
  });
  if (places.length < 2) return [];
  const hottest = places.reduce((top, each) => (each.expected_K > top.expected_K ? each : top));
  const off_K = hottest.rise_K - hottest.expected_K;
  const share = off_K / hottest.expected_K;
  const isAlike = places.every(
    ({ rise_K, expected_K }) => Math.abs(rise_K - expected_K * (1 + share)) <= alikeWithin * u_K,
  );
  if (Math.abs(off_K) < unlikeBy * u_K || !isAlike) return [];
  const words = share > 0 ? 'more' : 'less';
  return [
    {
      kind: 'unequal-load',
      level: 'look',
      title: 'another load than noted?',
      detail: `every place rose as if the device gave off ${formatNumber(100 * Math.abs(share), 0)} % ${words} heat than in the other runs of this set-up`,
      effect: `rises ${share > 0 ? 'higher' : 'lower'} by up to ${formatKelvin(Math.abs(off_K))}; it counts until you set it aside: look what was running`,
    },
  ];
}
