import { describe, expect, test } from 'vitest';
import { column, divide, filmsOn } from '../../../test/heat/grids.js';
import { smallDevice, smallSetups } from '../../../test/heat/small-device.js';
import type { Setup } from '../../records/index.js';
import { iterateSolve } from '../solve/iterate.js';
import { assembleNetwork } from '../solve/network.js';
import { makeDeviceModel } from './device-model.js';
import { bendParts, fillParts } from './fill-network.kernel.js';
import { coarsen, soakGrid } from './lay-grid.js';
import { DeviceSolver } from './solve-device.js';

/**
 * [CARSLAW-JAEGER] section 1.6: with k = k0 (1 + b (T - T0)) the transform U = (T - T0) + b (T - T0)² / 2 makes the equation linear, so that a slab
 * between two temperatures has U straight across it and passes k at their mean times their difference over its thickness.
 */
describe('a conductivity that follows temperature', () => {
  const [k0, thickness_m, cells] = [0.2, 2e-3, 64];
  /** 1e-9 m²K/W of film is next to nothing before 1e-2 of slab. */
  const pressed = 1e9;

  test.each([
    ['rises', 0.004],
    ['falls', -0.004],
  ])('that %s: a slab between two baths has the temperatures of Kirchhoff’s transform', (_, b) => {
    const [cold_C, hot_C] = [25, 125];
    const grid = column(divide(thickness_m, cells));
    const part = new Uint16Array(cells);
    const [rx, rz] = [new Float64Array(cells), new Float64Array(cells)];
    const films = filmsOn({ front: pressed, back: pressed });
    // Rises over the cold bath; the hot one is at the back.
    const answer = iterateSolve(
      (rise_K) => {
        fillParts(part, Float64Array.of(1 / k0), Float64Array.of(1 / k0), rx, rz);
        bendParts(part, Float64Array.of(b), rise_K ?? new Float64Array(cells), cold_C, rx, rz);
        const [along, through] = [rx, rz].map((all) => all.map((r) => 1 / r)) as [Float64Array, Float64Array];
        const network = assembleNetwork(grid, { kx: along, ky: along, kz: through }, films);
        const source_W = new Float64Array(cells);
        source_W[cells - 1] = (network.sink_W_per_K[cells - 1] as number) * (hot_C - cold_C);
        return { network, source_W };
      },
      { within_K: 1e-6, tolerance: 1e-11 },
    );
    if (!answer.ok) throw new Error(answer.reason.kind);
    const { rise_K } = answer.value;
    const transformed = (rise: number) => rise + (b * rise * rise) / 2;
    const whole = transformed(hot_C - cold_C);
    rise_K.forEach((rise, cell) => {
      const at = (cell + 0.5) / cells;
      const exact_K = (-1 + Math.sqrt(1 + 2 * b * whole * at)) / b;
      // Boxes with a conductivity of their own: an error of second order, 2 mK at this one.
      expect(Math.abs(rise - exact_K)).toBeLessThan(0.01);
    });
    const flux = (k0 * (1 + (b * (hot_C - cold_C)) / 2) * (hot_C - cold_C)) / thickness_m;
    const half_m2K_per_W = thickness_m / cells / 2 / (k0 * (1 + b * (rise_K[0] as number)));
    expect((rise_K[0] as number) / (half_m2K_per_W + 1 / pressed) / flux).toBeCloseTo(1, 4);
  });

  const bent: Setup = {
    ...smallSetups.plate,
    id: 'bent',
    layers: smallSetups.plate.layers.map((layer) => ({ ...layer, kSlope_per_K: 0.005, k_W_per_mK: 0.3 })),
  };
  const power_W = new Map([
    ['chip', 2],
    ['coil', 1],
  ]);
  const solverOf = (setup: Setup) =>
    new DeviceSolver(makeDeviceModel(smallDevice(), setup, { grid: coarsen(soakGrid) }));
  const state = { factors: new Map<string, number>(), power_W, ambient_C: 25 };

  test('in a device has each cell of the layer at the conductivity of its own temperature', () => {
    const solver = solverOf(bent);
    const solved = solver.solve(state, { within_K: 1e-4 });
    if (!solved.ok) throw new Error(solved.reason.kind);
    const { partOf, laid } = solver.model;
    const film = laid.parts.findIndex(({ name }) => name === 'film');
    let seen = 0;
    partOf.forEach((part, cell) => {
      if (part !== film) return;
      const expected = 0.3 * (1 + 0.005 * (solved.value.rise_K[cell] as number));
      expect((solver.networks.rz[cell] as number) * expected).toBeCloseTo(1, 5);
      seen++;
    });
    expect(seen).toBeGreaterThan(20);
  });

  test('has adjoints that know of it: what they say of a watt more is what whole solves say', () => {
    /** What the adjoint says of one more watt in the chip, over what two solves say. */
    const agreement = (setup: Setup) => {
      const solver = solverOf(setup);
      const solved = solver.solve(state, { within_K: 1e-5 });
      if (!solved.ok) throw new Error(solved.reason.kind);
      const { partOf, laid, heat } = solver.model;
      const read = partOf.findIndex((part) => laid.parts[part]?.role === 'cell');
      const weights = new Float64Array(partOf.length);
      weights[read] = 1;
      const adjoint = solver.solveAdjoint(state, solved.value.rise_K, weights);
      if (!adjoint.ok) throw new Error(adjoint.reason.kind);
      const chip = heat.find(({ id }) => id === 'chip');
      const told = (chip?.cells ?? new Int32Array()).reduce(
        (sum, cell, at) => sum + (adjoint.value[cell] as number) * (chip?.shares[at] as number),
        0,
      );
      const at = (chip_W: number) => {
        const moved = solver.solve(
          { ...state, power_W: new Map(power_W).set('chip', chip_W) },
          { within_K: 1e-5 },
        );
        if (!moved.ok) throw new Error(moved.reason.kind);
        return moved.value.rise_K[read] as number;
      };
      return told / ((at(2.02) - at(1.98)) / 0.04);
    };
    expect(agreement(bent)).toBeCloseTo(1, 3);
  });
});
