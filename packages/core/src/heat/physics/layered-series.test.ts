import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type StackQuery, solveLayeredStack } from './layered-series.js';
import type { LayeredStack, StackLayer, StackSource } from './layered-stack.js';
import { gapConductivity } from './thin-gap.js';

const sheet = (thickness_mm: number, kx: number, ky = kx, kz = kx, contact?: number): StackLayer => ({
  thickness_mm,
  kx_W_per_mK: kx,
  ky_W_per_mK: ky,
  kz_W_per_mK: kz,
  contactBelow_m2K_per_W: contact,
});

const source = (x: number, y: number, size = 12, power_W = 1, plane = 0): StackSource => ({
  plane,
  centre_mm: [x, y],
  size_mm: [size, size],
  power_W,
});

const plate = (layers: readonly StackLayer[], sources: readonly StackSource[]): LayeredStack => ({
  width_mm: 90,
  height_mm: 60,
  layers,
  topFilm_W_per_m2K: 0,
  bottomFilm_W_per_m2K: 10,
  sources,
});

const point = (plane: number, x: number, y: number): StackQuery => ({ kind: 'point', plane, at_mm: [x, y] });

const aluminium = sheet(0.5, 222);

describe('one watt on a plate', () => {
  // Computed outside the project in Python by another route: impedances from the outer faces towards the source instead of a chain of
  // nodes, summed as they are to 5000 and 10 000 terms along each side, and a third of the last step added for the tail. `doubt_K` is
  // that step, or half of the last digit. An independent finite-volume program gives the same corners to 2e-6 and centres to 2e-4.
  const large: LayeredStack = {
    ...plate([sheet(5, 200)], [source(50, 50, 20)]),
    width_mm: 100,
    height_mm: 100,
    bottomFilm_W_per_m2K: 50,
  };
  test.each([
    {
      name: 'a thick plate',
      stack: large,
      values: [2.0025, 2.1978202, 2.2390272, 1.9490768, 1.9490768, 2.206494],
      doubt_K: 1e-6,
    },
    {
      name: 'aluminium',
      stack: plate([aluminium], [source(45, 30)]),
      values: [18.518936, 20.4795483, 20.8356693, 17.9521747, 17.9521747, 20.827614],
      doubt_K: 1e-6,
    },
    {
      name: 'aluminium, off the centre',
      stack: plate([aluminium], [source(20, 45)]),
      values: [18.518936, 22.0730178, 22.4284418, 18.8827418, 16.858497, 22.420369],
      doubt_K: 1e-6,
    },
    {
      name: 'graphite',
      stack: plate([sheet(0.1, 700, 700, 15)], [source(45, 30)]),
      values: [18.519753, 21.6195813, 22.1834594, 17.6316857, 17.6316857, 22.159573],
      doubt_K: 1e-6,
    },
    {
      name: 'a sheet that carries ten times more along x',
      stack: plate([sheet(0.5, 300, 30, 3)], [source(20, 45)]),
      values: [18.549383, 26.7367452, 27.6013869, 13.8733358, 20.618651, 27.01106],
      doubt_K: 1e-6,
    },
    {
      name: 'the same turned by a quarter',
      stack: plate([sheet(0.5, 30, 300, 3)], [source(20, 45)]),
      values: [18.549383, 30.9598152, 31.9111788, 26.3764052, 9.71997, 31.317263],
      doubt_K: 1e-6,
    },
    {
      name: 'tape on aluminium',
      stack: plate([sheet(0.1, 0.2), aluminium], [source(45, 30)]),
      values: [18.611528, 23.9194674, 24.3068844, 17.9522909, 17.9522909, 20.826898],
      doubt_K: 4e-5,
    },
    {
      name: 'plastic',
      stack: plate([sheet(2, 0.2)], [source(45, 30)]),
      values: [20.37037, 266.0824314, 331.5102534, 0.1798667, 0.1798667, 282.81874],
      doubt_K: 4e-5,
    },
    {
      name: 'a board on aluminium with a contact',
      stack: plate([sheet(1, 10, 10, 0.35, 1e-4), aluminium], [source(30, 30)]),
      values: [19.066555, 32.202785, 35.5116798, 19.0821858, 17.27091, 20.39488],
      doubt_K: 4e-6,
    },
  ])('$name', ({ stack, values, doubt_K }) => {
    const [{ centre_mm, size_mm }] = stack.sources as readonly [StackSource];
    const last = stack.layers.length;
    const answer = solveLayeredStack(stack, [
      { kind: 'plane', plane: 0 },
      { kind: 'patch', plane: 0, centre_mm, size_mm },
      { kind: 'point', plane: 0, at_mm: centre_mm },
      point(0, 0, 0),
      point(0, stack.width_mm, stack.height_mm),
      { kind: 'point', plane: last, at_mm: centre_mm },
    ]);
    for (const [i, expected] of values.entries()) {
      const { rise_K, truncation_K } = answer.rises[i] ?? { rise_K: Number.NaN, truncation_K: 0 };
      expect(Math.abs(rise_K - expected)).toBeLessThanOrEqual(doubt_K + truncation_K);
      // A yardstick for grids of 1 mm has to be better than they are by two orders; they are good to some parts in a thousand.
      expect(truncation_K).toBeLessThan(1e-4 * expected);
    }
    // A law: what is put in comes out.
    expect(answer.heatUp_W + answer.heatDown_W).toBeCloseTo(1, 12);
  });

  // [INCROPERA] chip of 10 mm on 8 mm of aluminium with an epoxy joint, films of 100 on both sides, 25 °C: 75.3 °C printed with a joint of
  // 0.9e-4 m² K/W and k 239. A joint of 0.02 mm with k 0.2 and aluminium of 237 is 75.33217 °C by hand.
  test('a chip that covers its plate is as warm as the book says', () => {
    const { rises, heatUp_W } = solveLayeredStack(
      {
        width_mm: 10,
        height_mm: 10,
        layers: [sheet(0.02, 0.2), sheet(8, 237)],
        topFilm_W_per_m2K: 100,
        bottomFilm_W_per_m2K: 100,
        sources: [source(5, 5, 10)],
      },
      [point(0, 2, 7)],
    );
    expect(25 + (rises[0]?.rise_K ?? Number.NaN)).toBeCloseTo(75.33217, 5);
    expect(heatUp_W).toBeCloseTo(100 * 1e-4 * 50.33217, 5);
  });

  // Two sources at once, and each one's mean under the other: the same per watt both ways, from Python as above.
  test('two sources add up, and each warms the other alike', () => {
    const [one, two] = [source(20, 45, 12, 1.5), source(65, 20, 10, 0.8)];
    const both = solveLayeredStack(plate([aluminium], [one, two]), [point(0, 20, 45), point(0, 65, 20)]);
    const halfOfLast = 5.1e-7;
    for (const [i, expected] of [33.642662 + 13.689778, 25.672585 + 17.556714].entries()) {
      const { rise_K, truncation_K } = both.rises[i] ?? { rise_K: Number.NaN, truncation_K: 0 };
      expect(Math.abs(rise_K - expected)).toBeLessThanOrEqual(2 * halfOfLast + truncation_K);
    }
    const under = (heated: StackSource, asked: StackSource) =>
      (solveLayeredStack(plate([aluminium], [heated]), [{ ...asked, kind: 'patch' }], { tolerance_K: 1e-9 })
        .rises[0]?.rise_K ?? Number.NaN) / heated.power_W;
    expect(under(one, two)).toBeCloseTo(17.121489837, 8);
    expect(Math.abs(under(one, two) - under(two, one))).toBeLessThan(1e-12);
  });
});

/** A fully specified stack of invented parts: shell, gap, board, source, shield, pack, gap, shell. 90 mm by 60 mm, 1.5 W at (30, 30). */
const air = (thickness_mm: number, one: number, other: number): StackLayer => {
  const gap = gapConductivity({ thickness_mm, emissivities: [one, other], k_W_per_mK: 0.027 }, 40);
  return sheet(thickness_mm, gap.kInPlane_W_per_mK, gap.kInPlane_W_per_mK, gap.kThrough_W_per_mK);
};
const strips = ({ kz_W_per_mK, ...layer }: StackLayer): StackLayer => ({
  ...layer,
  kz_W_per_mK: 0.9 * kz_W_per_mK + 0.1 * 0.2,
});
const tape = sheet(0.05, 0.18);

function device(
  shield: readonly StackLayer[],
  changes: Partial<LayeredStack> = {},
  board_k = 10,
): LayeredStack {
  const shell = sheet(2, 0.2);
  return {
    width_mm: 90,
    height_mm: 60,
    layers: [
      shell,
      air(2, 0.9, 0.9),
      sheet(1, board_k, board_k, 0.35),
      ...shield,
      sheet(5, 27, 27, 0.5),
      air(0.3, 0.9, 0.9),
      shell,
    ],
    topFilm_W_per_m2K: 10,
    bottomFilm_W_per_m2K: 10,
    sources: [source(30, 30, 12, 1.5, 3)],
    ...changes,
  };
}

/** Temperatures in a room of 25 °C, as the reference prints them. */
function readDevice(stack: LayeredStack) {
  const pack = stack.layers.length - 3;
  const answer = solveLayeredStack(stack, [
    { ...(stack.sources[0] as StackSource), kind: 'patch' },
    point(3, 90, 0),
    { kind: 'plane', plane: pack },
    point(pack, 30, 30),
    point(pack, 90, 0),
    { kind: 'plane', plane: pack + 1 },
    point(pack + 3, 30, 30),
    point(0, 30, 30),
  ]);
  const at_C = answer.rises.map(({ rise_K }) => 25 + rise_K);
  const missing_K = answer.rises.map(({ truncation_K }) => truncation_K);
  return { at_C, missing_K, down: answer.heatDown_W / (answer.heatUp_W + answer.heatDown_W), answer };
}

/** The top of the pack alone: a layer away from the source a few terms are enough. */
function readPack(stack: LayeredStack): { readonly mean_K: number; readonly under_K: number } {
  const pack = stack.layers.length - 3;
  const { rises } = solveLayeredStack(stack, [{ kind: 'plane', plane: pack }, point(pack, 30, 30)]);
  return { mean_K: rises[0]?.rise_K ?? Number.NaN, under_K: rises[1]?.rise_K ?? Number.NaN };
}

describe('ten shields in one reference stack', () => {
  const bare = [air(2, 0.9, 0.9)];
  const floating = [air(0.75, 0.9, 0.08), sheet(0.5, 222), air(0.75, 0.08, 0.9)];
  // Chip, far corner of the board, pack top: mean, under the chip, far corner; pack bottom, lower shell, upper shell; share downwards.
  // Computed outside the project in Python by impedances, with 1200 terms; the chip with 4000 and its tail. `doubt_K` is half of the
  // last digit, for the chip the tail.
  const doubt_K = 5.1e-7;
  const chipDoubt_K = 1.1e-5;
  test.each([
    {
      id: 'bare',
      shield: bare,
      expected: [83.666678, 39.998069, 42.200698, 44.01657, 40.907889, 40.882127, 38.453172, 52.514579],
      down: 0.474686,
    },
    {
      id: 'polyimide',
      shield: [air(1.9, 0.9, 0.9), sheet(0.1, 0.12)],
      expected: [83.514915, 40.007049, 42.251615, 44.093833, 40.947027, 40.92914, 38.494784, 52.433143],
      down: 0.476091,
    },
    {
      id: 'plate on the pack',
      shield: [air(1.45, 0.9, 0.08), sheet(0.5, 222), tape],
      expected: [83.458411, 40.354624, 42.183391, 42.686675, 41.590869, 40.866146, 38.290146, 52.400037],
      down: 0.474208,
    },
    {
      id: 'floating plate',
      shield: floating,
      expected: [80.237366, 42.746961, 42.071409, 42.244825, 41.79614, 40.762748, 38.140718, 50.91774],
      down: 0.471118,
    },
    {
      id: 'floating plate on strips',
      shield: [...floating.slice(0, 2), strips(air(0.75, 0.08, 0.9))],
      expected: [79.542227, 42.119586, 42.60281, 42.841189, 42.23599, 41.253413, 38.566034, 50.496889],
      down: 0.485783,
    },
    {
      id: 'graphite',
      shield: [air(1.85, 0.9, 0.8), sheet(0.1, 700, 700, 15), tape],
      expected: [83.271543, 40.299606, 42.253896, 42.929833, 41.503533, 40.931246, 38.376099, 52.305018],
      down: 0.476154,
    },
    {
      id: 'aerogel',
      shield: [sheet(2, 0.02)],
      expected: [88.877721, 40.250359, 40.11634, 41.219504, 39.208748, 38.957551, 36.773231, 55.375055],
      down: 0.417164,
    },
    {
      id: 'pad and plate',
      shield: [sheet(1, 3), sheet(0.5, 222), air(0.5, 0.08, 0.9)],
      expected: [52.034413, 45.095688, 44.03108, 44.505174, 43.528771, 42.572195, 39.689895, 40.04631],
      down: 0.525199,
    },
    {
      id: 'painted plate',
      shield: [air(0.75, 0.9, 0.9), sheet(0.5, 222), air(0.75, 0.9, 0.9)],
      expected: [79.000965, 42.773908, 42.407163, 42.607356, 42.095724, 41.072764, 38.405211, 50.293277],
      down: 0.480384,
    },
    {
      id: 'steel on the pack',
      shield: [air(1.75, 0.9, 0.3), sheet(0.2, 15), tape],
      expected: [84.437651, 39.982785, 41.93227, 43.46676, 40.737059, 40.634275, 38.225358, 52.926975],
      down: 0.467278,
    },
  ])('$id', ({ shield, expected, down }) => {
    const read = readDevice(device(shield));
    for (const [i, temperature_C] of expected.entries()) {
      const missing_K = (i === 0 ? chipDoubt_K : doubt_K) + (read.missing_K[i] ?? 0);
      expect(Math.abs((read.at_C[i] ?? Number.NaN) - temperature_C)).toBeLessThanOrEqual(missing_K);
      expect(missing_K).toBeLessThan(1e-4);
    }
    expect(Math.abs(read.down - down)).toBeLessThanOrEqual(5.1e-7);
  });

  // Pack top along x under the chip, from Python as above; half of the last digit. A probe 5 mm off reads 0.33 K low bare, 0.04 K under a
  // floating plate.
  test.each([
    { id: 'bare', shield: bare, at_C: [44.017, 43.69, 43.114, 42.246, 41.642, 40.918] },
    {
      id: 'plate on the pack',
      shield: [air(1.45, 0.9, 0.08), sheet(0.5, 222), tape],
      at_C: [42.687, 42.596, 42.461, 42.177, 41.932, 41.595],
    },
    { id: 'floating plate', shield: floating, at_C: [42.245, 42.206, 42.158, 42.051, 41.95, 41.797] },
  ])('along the pack, $id', ({ shield, at_C }) => {
    const stack = device(shield);
    const along = [30, 35, 40, 50, 60, 90].map((x) => point(stack.layers.length - 3, x, 30));
    for (const [i, { rise_K }] of solveLayeredStack(stack, along).rises.entries())
      expect(Math.abs(25 + rise_K - (at_C[i] ?? Number.NaN))).toBeLessThanOrEqual(5.1e-4);
  });

  // The mean of any plane is that of one dimension, by hand: rise = P Rup Rdown / (Rup + Rdown) / A, then through the gap.
  test('the pack’s mean is what one dimension says', () => {
    const hr = 4 * 5.670374419e-8 * 313.15 ** 3 * (1 / (2 / 0.9 - 1));
    const gap = (metres: number) => 1 / (0.027 / metres + hr);
    const up = 0.1 + 0.002 / 0.2 + gap(0.002) + 0.001 / 0.35;
    const below = 0.005 / 0.5 + gap(0.0003) + 0.002 / 0.2 + 0.1;
    const downTotal = gap(0.002) + below;
    const flux = 1.5 / 0.0054 / (1 + downTotal / up);
    expect(readPack(device(bare)).mean_K).toBeCloseTo(flux * below, 10);
  });

  // What one change does to pack mean and pack under the chip, bare; from Python as above, half of the last digit of each of two.
  test.each([
    {
      change: 'a fifth more power',
      stack: device(bare, { sources: [source(30, 30, 12, 1.8, 3)] }),
      mean_K: 3.44,
      under_K: 3.803,
    },
    {
      change: 'bottom film 8',
      stack: device(bare, { bottomFilm_W_per_m2K: 8 }),
      mean_K: 1.921,
      under_K: 1.922,
    },
    { change: 'top film 8', stack: device(bare, { topFilm_W_per_m2K: 8 }), mean_K: 1.278, under_K: 1.294 },
    { change: 'board carries half', stack: device(bare, {}, 5), mean_K: 0, under_K: 0.85 },
    { change: 'board carries double', stack: device(bare, {}, 20), mean_K: 0, under_K: -0.611 },
    { change: 'half the gap', stack: device([air(1, 0.9, 0.9)]), mean_K: 1.135, under_K: 1.956 },
    { change: 'half as thick again', stack: device([air(3, 0.9, 0.9)]), mean_K: -0.755, under_K: -1.092 },
  ])('$change', ({ stack, mean_K, under_K }) => {
    const [before, after] = [readPack(device(bare)), readPack(stack)];
    expect(Math.abs(after.mean_K - before.mean_K - mean_K)).toBeLessThanOrEqual(5.1e-4);
    expect(Math.abs(after.under_K - before.under_K - under_K)).toBeLessThanOrEqual(5.1e-4);
  });
});

describe('any stack', () => {
  const layers = fc.array(
    fc.record({
      thickness_mm: fc.double({ min: 0.05, max: 5, noNaN: true }),
      kx_W_per_mK: fc.double({ min: 0.03, max: 700, noNaN: true }),
      ky_W_per_mK: fc.double({ min: 0.03, max: 700, noNaN: true }),
      kz_W_per_mK: fc.double({ min: 0.03, max: 20, noNaN: true }),
      contactBelow_m2K_per_W: fc.constantFrom(0, 1e-4, 1e-3),
    }),
    { minLength: 1, maxLength: 5 },
  );
  const effort = { mostTerms: 64 };

  // Laws, each to the rounding of sums of some thousand terms.
  test('is reciprocal, linear and loses what it gets', () => {
    fc.assert(
      fc.property(layers, fc.nat(5), fc.nat(5), fc.constantFrom(0, 12), (sheets, i, j, topFilm_W_per_m2K) => {
        const one = source(20, 40, 12, 1, i % (sheets.length + 1));
        const two = source(60, 25, 9, 1, j % (sheets.length + 1));
        const make = (sources: readonly StackSource[]) => ({ ...plate(sheets, sources), topFilm_W_per_m2K });
        const ask = (sources: readonly StackSource[], asked: StackSource) =>
          solveLayeredStack(make(sources), [{ ...asked, kind: 'patch' }], effort);
        const rise = (sources: readonly StackSource[], asked: StackSource) =>
          ask(sources, asked).rises[0]?.rise_K ?? Number.NaN;
        const scale = rise([one], one) + rise([two], two);
        expect(Math.abs(rise([one], two) - rise([two], one))).toBeLessThan(1e-11 * scale);
        expect(
          Math.abs(rise([one, { ...two, power_W: 3 }], two) - rise([one], two) - 3 * rise([two], two)),
        ).toBeLessThan(1e-11 * scale);
        const { heatUp_W, heatDown_W } = ask([one, two], one);
        expect(heatUp_W + heatDown_W).toBeCloseTo(2, 9);
      }),
      { numRuns: 40 },
    );
  });

  test('cut into two layers of one material it stays what it was', () => {
    const whole = solveLayeredStack(plate([sheet(2, 30, 10, 3)], [source(30, 30)]), [point(1, 70, 20)]);
    const cut = solveLayeredStack(plate([sheet(0.7, 30, 10, 3), sheet(1.3, 30, 10, 3)], [source(30, 30)]), [
      point(2, 70, 20),
    ]);
    expect(cut.rises[0]?.rise_K).toBeCloseTo(whole.rises[0]?.rise_K ?? Number.NaN, 11);
  });

  test('a contact is two faces: heat drops by flux times resistance between them', () => {
    const stack = plate([sheet(1, 10, 10, 0.35, 1e-3), aluminium], [source(45, 30)]);
    const answer = solveLayeredStack(stack, [
      { kind: 'plane', plane: 1, side: 'above' },
      { kind: 'plane', plane: 1, side: 'below' },
      { kind: 'layer', layer: 1 },
      { kind: 'plane', plane: 2 },
    ]);
    const [above, below, middle, bottom] = answer.rises.map(({ rise_K }) => rise_K) as [
      number,
      number,
      number,
      number,
    ];
    expect(above - below).toBeCloseTo(1e-3 / 0.0054, 10);
    expect(middle).toBeCloseTo((below + bottom) / 2, 12);
  });

  test.each([
    { what: 'no film', stack: { ...plate([aluminium], []), bottomFilm_W_per_m2K: 0 } },
    { what: 'a source beyond the edge', stack: plate([aluminium], [source(88, 30)]) },
    { what: 'a layer of no thickness', stack: plate([sheet(0, 222)], []) },
    { what: 'a conductivity that is no number', stack: plate([sheet(1, Number.NaN)], []) },
    { what: 'no layer', stack: plate([], []) },
  ])('refuses $what', ({ stack }) => {
    expect(() => solveLayeredStack(stack, [])).toThrow(/must lie in/);
  });

  test.each([point(2, 10, 10), point(0.5, 10, 10), point(0, 91, 0), { kind: 'layer', layer: 1 } as const])(
    'refuses to answer %o',
    (query) => {
      expect(() => solveLayeredStack(plate([aluminium], [source(45, 30)]), [query])).toThrow(/must lie in/);
    },
  );
});
