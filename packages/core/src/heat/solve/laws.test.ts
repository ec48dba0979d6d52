import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  conducting,
  countsOf,
  divide,
  drawDevice,
  filmsAll,
  filmsOn,
  perCell,
  stack,
} from '../../../test/heat/grids.js';
import { makeNoise } from '../../numerics/index.js';
import { assembleNetwork, type HeatNetwork, prepareSolver } from '../index.js';

/** What must hold for any device, whatever it is made of. Devices are drawn by chance and reproducible by their seed. */
const seeds = fc.integer({ min: 1, max: 2147483646 });
const runs = { numRuns: 30 };
const tolerance = 1e-12;

function solve(network: HeatNetwork, source_W: Float64Array): Float64Array {
  const answer = prepareSolver(network).solve(source_W, { tolerance, maxIterations: 500 });
  if (!answer.ok) throw new Error(`No field: ${JSON.stringify(answer.reason)}`);
  return answer.value.rise_K;
}

/** Greatest distance beside the greatest value. */
function distance(a: Float64Array, b: Float64Array): number {
  const most = a.reduce((high, value) => Math.max(high, Math.abs(value)), 0);
  return a.reduce((high, value, c) => Math.max(high, Math.abs(value - b[c]!)), 0) / most;
}

const deviceOf = (seed: number) => {
  const device = drawDevice(makeNoise(seed));
  return { ...device, network: assembleNetwork(device.grid, device.conductivity, device.films) };
};

/** Residuals of 1e-12 of the source; fields of poorly cooled devices may err a few hundred times as much. */
const rounding = 1e-9;

test('what comes in goes out', () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const { network, source_W } = deviceOf(seed);
      const answer = prepareSolver(network).solve(source_W, { tolerance, maxIterations: 500 });
      if (!answer.ok) throw new Error(answer.reason.kind);
      const { in_W, out_W } = answer.value.balance;
      expect(in_W).toBeCloseTo(
        source_W.reduce((a, b) => a + b),
        12,
      );
      expect(Math.abs(out_W - in_W)).toBeLessThan(rounding * in_W);
    }),
    runs,
  );
});

test('a watt here warms there as a watt there warms here', () => {
  fc.assert(
    fc.property(seeds, fc.double({ min: 0, max: 0.999, noNaN: true }), (seed, place) => {
      const { network, source_W } = deviceOf(seed);
      const n = source_W.length;
      const [a, b] = [0, Math.floor(place * n)];
      const unit = (at: number) => new Float64Array(n).map((_, c) => (c === at ? 1 : 0));
      const there = solve(network, unit(a))[b]!;
      const here = solve(network, unit(b))[a]!;
      const own = solve(network, unit(a))[a]!;
      expect(Math.abs(there - here)).toBeLessThan(rounding * own);
    }),
    runs,
  );
});

test('rises add up and scale with power', () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const { network, source_W } = deviceOf(seed);
      const solver = prepareSolver(network);
      const other = source_W.map((_, c) => (c % 7 === 3 ? 0.3 : 0));
      const field = (source: Float64Array) => {
        const answer = solver.solve(source, { tolerance, maxIterations: 500 });
        if (!answer.ok) throw new Error(answer.reason.kind);
        return answer.value.rise_K;
      };
      const [first, second] = [field(source_W), field(other)];
      const both = field(source_W.map((heat, c) => 2 * heat + other[c]!));
      expect(
        distance(
          both,
          first.map((rise, c) => 2 * rise + second[c]!),
        ),
      ).toBeLessThan(rounding);
    }),
    runs,
  );
});

test('nothing is below ambient, and the hottest cell makes heat', () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const { network, source_W } = deviceOf(seed);
      const rise_K = solve(network, source_W);
      const most = rise_K.reduce((high, value) => Math.max(high, value));
      expect(Math.min(...rise_K)).toBeGreaterThan(-rounding * most);
      const hottestSource = rise_K.reduce(
        (high, value, c) => (source_W[c]! > 0 ? Math.max(high, value) : high),
        0,
      );
      expect(hottestSource).toBeGreaterThan(most * (1 - rounding));
    }),
    runs,
  );
});

test('a mirrored device has the mirrored field', () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const { grid, conductivity, films, network, source_W } = deviceOf(seed);
      const { nx, nz } = countsOf(grid);
      const flip = (values: Float64Array) =>
        values.map((_, c) => {
          const column = Math.floor(c / nz);
          const i = column % nx;
          return values[c + nz * (nx - 1 - 2 * i)]!;
        });
      const end = grid.x_m.at(-1)!;
      const mirrored = assembleNetwork(
        { ...grid, x_m: grid.x_m.map((_, i) => end - grid.x_m[nx - i]!) },
        { kx: flip(conductivity.kx), ky: flip(conductivity.ky), kz: flip(conductivity.kz) },
        { ...films, west: films.east, east: films.west },
      );
      const field = solve(network, source_W);
      expect(distance(field, flip(solve(mirrored, flip(source_W))))).toBeLessThan(rounding);
    }),
    runs,
  );
});

test('power, conductivities and films times the same factor leave temperatures alone', () => {
  fc.assert(
    fc.property(seeds, fc.constantFrom(1e-6, 0.37, 1e6), (seed, factor) => {
      const { grid, conductivity, films, network, source_W } = deviceOf(seed);
      const times = (values: Float64Array) => values.map((value) => value * factor);
      const scaled = assembleNetwork(
        grid,
        { kx: times(conductivity.kx), ky: times(conductivity.ky), kz: times(conductivity.kz) },
        Object.fromEntries(
          Object.entries(films).map(([face, film]) => [face, (film as number) * factor]),
        ) as typeof films,
      );
      expect(distance(solve(network, source_W), solve(scaled, times(source_W)))).toBeLessThan(rounding);
    }),
    runs,
  );
});

test('what conducts perfectly is at one temperature: power over the sum of film times area', () => {
  const grid = { x_m: divide(0.1, 5), y_m: divide(0.06, 4), z_m: divide(0.01, 3) };
  const network = assembleNetwork(
    grid,
    conducting(grid, () => 1e9),
    filmsAll(8),
  );
  const source_W = perCell(grid, ({ i, j, k }) => (i === 1 && j === 2 && k === 0 ? 3 : 0));
  const area = 2 * (0.1 * 0.06 + 0.1 * 0.01 + 0.06 * 0.01);
  for (const rise of solve(network, source_W)) expect(rise).toBeCloseTo(3 / (8 * area), 6);
});

describe('the mean theorem', () => {
  // Layers that cover the footprint, adiabatic sides, uniform films: the mean over any plane is that of one dimension, however
  // well layers conduct in the plane and wherever the sources sit in theirs. Follows from integrating over the plane.
  test('the mean of each layer is that of a column', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const noise = makeNoise(seed);
        const sizes = Array.from({ length: 6 }, () => 1e-4 + 3e-3 * noise.uniform());
        const edges = (count: number) =>
          stack(Array.from({ length: count }, () => 1e-3 + 0.02 * noise.uniform()));
        const grid = { x_m: edges(9), y_m: edges(6), z_m: stack(sizes) };
        const layers = sizes.map(
          () =>
            [300 * noise.uniform() + 0.03, 300 * noise.uniform() + 0.03, 3 * noise.uniform() + 0.02] as const,
        );
        const films = filmsOn({ front: 12, back: 7 });
        const source_W = perCell(grid, ({ i, j, k }) => (k === 2 && i === 3 && j > 3 ? 0.8 : 0));
        const network = assembleNetwork(
          grid,
          conducting(grid, ({ k }) => layers[k]!),
          films,
        );
        const rise_K = solve(network, source_W);
        const [width, depth] = [grid.x_m.at(-1)!, grid.y_m.at(-1)!];
        const thin = { x_m: divide(width, 1), y_m: divide(depth, 1), z_m: grid.z_m };
        const line = solve(
          assembleNetwork(
            thin,
            conducting(thin, ({ k }) => layers[k]!),
            films,
          ),
          perCell(thin, ({ k }) => (k === 2 ? source_W.reduce((a, b) => a + b) : 0)),
        );
        const areas = perCell(grid, ({ volume, k }) => volume / sizes[k]!);
        const means = sizes.map((_, k) =>
          rise_K.reduce((sum, rise, c) => (c % 6 === k ? sum + (rise * areas[c]!) / width / depth : sum), 0),
        );
        for (const [k, mean] of means.entries()) {
          expect(Math.abs(mean - line[k]!)).toBeLessThan(rounding * line[2]!);
        }
      }),
      runs,
    );
  });
});
