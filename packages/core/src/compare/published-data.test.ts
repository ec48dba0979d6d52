/** Comparisons whose results are printed elsewhere. Where SciPy is named it was run on the data that the source lists. */
import { describe, expect, test } from 'vitest';
import { standardDeviation, tCdf } from '../numerics/index.js';
import { compareSetups } from './compare-setups.js';
import { compareUnequal } from './compare-unequal.js';
import type { Contest, Quantity } from './contest.js';
import type { Observation } from './observation.js';

const quantity: Quantity = { probe: 'c1', phase: 'load', charging: false };
const oneDay = () => 'day';
const byDay = (i: number) => `day ${i}`;

/** Groups of plain numbers as runs that know themselves exactly, the first group the baseline. */
function compare(
  groups: Readonly<Record<string, readonly number[]>>,
  session: (i: number) => string = oneDay,
  noWorse_K = 0.5,
): Contest {
  const observations = Object.entries(groups).flatMap(([setup, values]) =>
    values.map(
      (rise_K, i): Observation => ({
        run: `${setup} ${i}`,
        setup,
        session: session(i),
        mounting: `${i}`,
        rise_K,
        u_K: 0,
      }),
    ),
  );
  return compareSetups(quantity, observations, Object.keys(groups)[0] ?? '', { noWorse_K });
}

function find<Pair extends { readonly setup: string; readonly other: string }>(
  pairs: readonly Pair[] | null,
  one: string,
  two: string,
): Pair {
  const found = pairs?.find(({ setup, other }) => [setup, other].sort().join() === [one, two].sort().join());
  if (found === undefined) throw new Error(`no ${one} and ${two}`);
  return found;
}

const near = (value: number, expected: number, tolerance: number) =>
  expect(Math.abs(value - expected)).toBeLessThan(tolerance);

// [CRAN-DATA] sleep, Student's own example; t, degrees of freedom and intervals by R 4.2.2 and SciPy 1.17.
describe('hours of sleep gained, two drugs', () => {
  const drugs = {
    x: [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0],
    y: [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4],
  };

  test('sleepers as sessions make it the paired test', () => {
    const contest = compare(drugs, byDay);
    expect(contest.sessions).toBe('random');
    const { cooler_K, p, simultaneous95_K } = find(contest.pairs, 'x', 'y');
    near(cooler_K.value / cooler_K.u, 4.06212768338, 1e-8);
    expect(cooler_K.dof).toBeCloseTo(9, 6);
    near(p, 0.00283289019738, 1e-8);
    near(simultaneous95_K[0], 0.700114236723, 1e-6);
    near(simultaneous95_K[1], 2.45988576328, 1e-6);
  });

  test('all alike it is the pooled test, and with its own spreads Welch’s', () => {
    const contest = compare(drugs);
    const pooled = find(contest.pairs, 'x', 'y');
    near(pooled.cooler_K.value / pooled.cooler_K.u, 1.86081346749, 1e-8);
    expect(pooled.cooler_K.dof).toBe(18);
    near(pooled.p, 0.0791867142159, 1e-8);
    const own = find(compareUnequal(contest), 'x', 'y');
    near(own.cooler_K.dof ?? Number.NaN, 17.7764735162, 1e-9);
    near(own.p, 0.0793941401874, 1e-8);
    near(own.simultaneous95_K[1], 3.36548323071, 1e-7);
  });
});

// [CRAN-DATA] PlantGrowth; TukeyHSD by R 4.2.2, Games-Howell by rstatix 0.7.2, both by SciPy 1.17; Dunnett by the double
// integral in SciPy.
describe('weights of plants under two treatments', () => {
  const contest = compare({
    ctrl: [4.17, 5.58, 5.18, 6.11, 4.5, 4.61, 5.17, 4.53, 5.33, 5.14],
    trt1: [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69],
    trt2: [6.31, 5.12, 5.54, 5.5, 5.37, 5.29, 4.92, 6.15, 5.8, 5.26],
  });

  test.each([
    ['trt1', 'ctrl', 0.371, 0.3908711442],
    ['trt2', 'ctrl', 0.494, 0.1979959913],
    ['trt2', 'trt1', 0.865, 0.012006424],
  ])('Tukey: %s and %s', (one, two, value, p) => {
    const pair = find(contest.pairs, one, two);
    near(pair.cooler_K.value, value, 1e-12);
    near(pair.cooler_K.u, 0.2787816084, 1e-9);
    near(pair.p, p, 1e-9);
    near(pair.simultaneous95_K[1] - value, 0.69121605141, 1e-8);
  });

  test.each([
    ['trt1', 'ctrl', 16.5235850569, 0.474554922, 0.8010875145],
    ['trt2', 'ctrl', 16.7857644826, 0.112889177, 0.5945544438],
    ['trt2', 'trt1', 14.1035691228, 0.0237034547, 0.7514870113],
  ])('Games and Howell: %s and %s', (one, two, dof, p, half) => {
    const pair = find(compareUnequal(contest), one, two);
    near(pair.cooler_K.dof ?? Number.NaN, dof, 1e-8);
    near(pair.p, p, 1e-9);
    near(pair.simultaneous95_K[1] - pair.cooler_K.value, half, 1e-8);
  });

  test.each([
    ['trt1', 0.322695685],
    ['trt2', 0.153485861],
  ])('Dunnett: %s', (setup, p) => {
    const found = find(contest.toBaseline, setup, 'ctrl');
    near(found.p, p, 1e-8);
    near((found.simultaneous95_K[1] - found.cooler_K.value) / found.cooler_K.u, 2.33341155, 1e-7);
  });
});

// [DUNNETT-1955] blood counts, unequal numbers; intervals by the double integral in SciPy.
test('blood counts against a control', () => {
  const contest = compare({
    control: [7.4, 8.5, 7.2, 8.24, 9.84, 8.32],
    A: [9.76, 8.8, 7.68, 9.36],
    B: [12.8, 9.68, 12.16, 9.2, 10.55],
  });
  expect(contest.runToRun.sd_K ** 2).toBeCloseTo(1.38052333333, 8);
  const a = find(contest.toBaseline, 'A', 'control');
  const b = find(contest.toBaseline, 'B', 'control');
  near(a.p, 0.62010198, 1e-8);
  near(b.p, 0.00582536085, 1e-8);
  near(-a.simultaneous95_K[1], -1.2563, 5e-5); // printed as the control's excess, ours as what A is cooler by
  near(-a.simultaneous95_K[0], 2.5563, 5e-5);
  near(-b.simultaneous95_K[1], 0.8397, 5e-5);
  near(-b.simultaneous95_K[0], 4.4163, 5e-5);
});

// [CRAN-DATA] chickwts, unequal numbers: TukeyHSD by R 4.2.2, Games-Howell by SciPy 1.17.
test('weights of chicks on six feeds', () => {
  const contest = compare({
    casein: [368, 390, 379, 260, 404, 318, 352, 359, 216, 222, 283, 332],
    horsebean: [179, 160, 136, 227, 217, 168, 108, 124, 143, 140],
    linseed: [309, 229, 181, 141, 260, 203, 148, 169, 213, 257, 244, 271],
    meatmeal: [325, 257, 303, 315, 380, 153, 263, 242, 206, 344, 258],
    soybean: [243, 230, 248, 327, 329, 250, 193, 271, 316, 267, 199, 171, 158, 248],
    sunflower: [423, 340, 392, 339, 341, 226, 320, 295, 334, 322, 297, 318],
  });
  for (const [one, two, p] of [
    ['linseed', 'horsebean', 0.1413328945],
    ['soybean', 'casein', 0.008365308683],
    ['soybean', 'horsebean', 0.004216654244],
    ['sunflower', 'meatmeal', 0.2206962362],
    ['sunflower', 'casein', 0.9998902174],
  ] as const)
    near(find(contest.pairs, one, two).p, p, 1e-8);
  for (const [one, two, dof, t, p] of [
    ['casein', 'linseed', 21.09735482, 4.3781104444, 0.0031015798],
    ['casein', 'soybean', 21.63450969, 3.274272704, 0.0360427832],
    ['soybean', 'sunflower', 23.92030869, 4.0836093868, 0.005088115],
  ] as const) {
    const pair = find(compareUnequal(contest), one, two);
    near(pair.cooler_K.dof ?? Number.NaN, dof, 1e-7);
    near(pair.cooler_K.value / pair.cooler_K.u, t, 1e-8);
    near(pair.p, p, 1e-8);
  }
});

// [CRAN-DATA] InsectSprays, spreads that differ widely: Games-Howell by rstatix 0.7.2 and SciPy 1.17.
test('insects left by six sprays, each with its own spread', () => {
  const pairs = compareUnequal(
    compare({
      A: [10, 7, 20, 14, 14, 12, 10, 23, 17, 20, 14, 13],
      B: [11, 17, 21, 11, 16, 14, 17, 17, 19, 21, 7, 13],
      C: [0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4],
      D: [3, 5, 12, 6, 4, 3, 5, 5, 5, 5, 2, 4],
      E: [3, 5, 3, 5, 3, 6, 1, 1, 3, 2, 6, 4],
      F: [11, 9, 15, 22, 15, 16, 13, 10, 26, 26, 24, 13],
    }),
  );
  near(find(pairs, 'C', 'D').cooler_K.dof ?? Number.NaN, 20.8718543039, 1e-8);
  near(find(pairs, 'C', 'D').p, 0.0556677695, 1e-8);
  near(find(pairs, 'A', 'B').p, 0.997248234, 1e-8);
  near(find(pairs, 'D', 'F').p, 0.000291414611, 1e-9);
  near(find(pairs, 'D', 'E').p, 0.600595253, 1e-8);
});

// [NIST-STRD] analysis of variance: certified residual standard deviations and F. With two groups F is t².
describe('certified analyses of variance', () => {
  /** F of equal groups: their number of runs times the variance of their means, over that within. */
  const fOf = ({ setups, runToRun }: Contest) =>
    ((setups[0]?.runs.length ?? 0) * standardDeviation(setups.map(({ rise_K }) => rise_K.value)) ** 2) /
    runToRun.sd_K ** 2;

  test('SiRstv: five instruments', () => {
    const contest = compare({
      a: [196.3052, 196.124, 196.189, 196.2569, 196.3403],
      b: [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
      c: [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
      d: [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
      e: [196.2119, 196.1051, 196.185, 196.0052, 196.209],
    });
    near(contest.runToRun.sd_K / 0.104076068334656, 1, 1e-8);
    expect(contest.runToRun.dof).toBe(20);
    near(fOf(contest) / 1.18046237440255, 1, 1e-8);
  });

  test('AtmWtAg: two instruments, seven leading digits alike', () => {
    const atomic = (digits: readonly number[]) => digits.map((digit) => Number(`107.868${digit}`));
    const contest = compare({
      one: atomic([
        1568, 1465, 1572, 1785, 1446, 1903, 1526, 1494, 1616, 1587, 1519, 1486, 1419, 1569, 1508, 1672, 1385,
        1518, 1662, 1424, 1360, 1333, 1610, 1477,
      ]),
      two: atomic([
        1079, 1344, 1513, 1197, 1604, 1385, 1642, 1365, 1151, 1082, 1517, 1448, 1198, 1482, 1334, 1609, 1101,
        1512, 1469, 1360, 1254, 1261, 1450, 1368,
      ]),
    });
    const { cooler_K } = find(contest.pairs, 'one', 'two');
    near((cooler_K.value / cooler_K.u) ** 2 / 15.946733567793, 1, 1e-6);
  });

  // Nine groups of 21 whose values lie a constant apart from small numbers: here and there a million.
  test.each([
    ['SmLs01', 0],
    ['SmLs04', 1_000_000 - 1],
  ])('%s', (_, offset) => {
    const groups = Object.fromEntries(
      [1.4, 1.3, 1.5, 1.3, 1.5, 1.3, 1.5, 1.3, 1.5].map((mean, group) => [
        `${group}`,
        Array.from({ length: 21 }, (__, i) => offset + mean + (i === 0 ? 0 : i % 2 === 1 ? -0.1 : 0.1)),
      ]),
    );
    const contest = compare(groups);
    near(contest.runToRun.sd_K, 0.1, 1e-8); // the tenths of 1000000.4 are only good to 1e-10 in doubles
    near(fOf(contest), 21, 1e-5);
    expect(contest.runToRun.dof).toBe(180);
  });
});

// Plateaus and rooms invented for this check; p-values of two one-sided tests by R 4.2.2 (t.test on the differences).
describe('no worse than', () => {
  const room = [22.1, 23.4, 21.0, 24.8, 22.7];
  const rises = (levels: readonly number[]) => levels.map((level, i) => level - (room[i] ?? Number.NaN));
  const shields = {
    a: rises([43.62, 45.1, 42.35, 46.33, 44.41]),
    b: rises([42.51, 43.77, 41.6, 45.41, 43.3]),
  };

  test('by 1.5 K both ways: alike within that', () => {
    const { noWorse } = find(compare(shields, byDay, 1.5).pairs, 'a', 'b');
    near(noWorse.setup.p, 6.5577e-6, 5e-11);
    near(noWorse.other.p, 0.00483016, 5e-9);
    expect([noWorse.setup.finding, noWorse.other.finding]).toEqual(['shown', 'shown']);
  });

  test('by half a kelvin: the cooler one is no worse, the warmer one is', () => {
    const { noWorse, setup } = find(compare(shields, byDay).pairs, 'a', 'b');
    expect(setup).toBe('b');
    expect(noWorse.setup.finding).toBe('shown');
    expect(noWorse.other.p).toBeGreaterThan(0.997);
    expect(noWorse.other.finding).toBe('not-shown');
  });

  test('not shown to be warmer is not yet shown to be no worse', () => {
    const contest = compare({ bare: [24, 25, 24.5], film: [23.9, 25.1, 24.6] });
    expect(contest.pairs[0]?.finding).toBe('not-shown');
    expect(contest.pairs[0]?.noWorse.other.finding).toBe('not-shown');
  });
});

// A law: a gain in doubt by 3 % adds that share of each difference, as squares, to a pair's own spread as to the common one.
test('a gain in doubt widens the pairs with their own spreads too', () => {
  const contest = compare({ bare: [40.2, 39.8, 40.1], plate: [30.3, 29.9, 30.1] });
  const [plain] = compareUnequal(contest) ?? [];
  const [doubted] = compareUnequal({ ...contest, gain_u: 0.03 }) ?? [];
  if (plain === undefined || doubted === undefined) throw new Error('no pair');
  near(doubted.cooler_K.u, Math.hypot(plain.cooler_K.u, 0.03 * plain.cooler_K.value), 1e-12);
});

test('runs of one mounting are no repeats, and give no spread of their own', () => {
  const contest = compare({ bare: [40.2, 39.8, 40.1], plate: [30.3, 29.9, 30.1] });
  const setups = contest.setups.map((each) => ({
    ...each,
    runs: each.runs.map((run, i) => ({ ...run, mounting: i === 2 ? '0' : run.mounting })),
  }));
  expect(compareUnequal({ ...contest, setups })).toBeNull();
});

// [HOLM-1979] by hand: of two claims in each of three pairs one is true at least, so the least of six chances is raised threefold.
test('"no worse" is raised for the number of pairs', () => {
  const { pairs, noWorse_K } = compare({
    bare: [24, 25, 24.5],
    film: [23.9, 25.1, 24.6],
    plate: [23.2, 24.1, 23.5],
  });
  const alone = pairs.flatMap(({ cooler_K: { value, u, dof } }) =>
    [1, -1].map((sign) => tCdf(-(noWorse_K + sign * value) / u, dof ?? Number.NaN)),
  );
  const raised = pairs.flatMap(({ noWorse }) => [noWorse.setup.p, noWorse.other.p]);
  near(Math.min(...raised), 3 * Math.min(...alone), 1e-12);
});

test('two single mountings carry no verdict between them, whatever the others show; a rise has its own 95 %', () => {
  const contest = compare({ bare: [24, 24.2, 24.1], plate: [20], gap: [18] });
  expect(find(contest.pairs, 'plate', 'gap').finding).toBe('no-verdict');
  expect(find(contest.pairs, 'plate', 'bare').finding).toBe('shown');
  const [bare] = contest.setups;
  // [JCGM-100] table G.2: 4.30 for 95 % and 2 degrees of freedom.
  near((bare?.interval95_K[1] ?? 0) - 24.1, 4.302652729749 * (bare?.rise_K.u ?? 0), 1e-9);
});
