import { expect, test } from 'vitest';
import { slowestTimeConstant_s } from '../../src/heat/calibrate/time-constants.js';
import { volumeOf } from '../../src/heat/device/fill-cells.js';
import { tangentNetwork } from '../../src/heat/device/linearise.js';
import { coarsen, DeviceSolver, makeDeviceModel, soakGrid, solveTransient } from '../../src/heat/index.js';
import { smallDevice, smallSetups } from './small-device.js';

const power_W = new Map([
  ['chip', 1],
  ['coil', 0.5],
]);

test('the slowest time constant is the pace at which a cooling device fades at last', () => {
  const model = makeDeviceModel(smallDevice(), smallSetups.plate, { grid: coarsen(soakGrid) });
  const solver = new DeviceSolver(model);
  const state = { factors: new Map<string, number>(), power_W, ambient_C: 25 };
  const solved = solver.solve(state);
  const found = slowestTimeConstant_s(solver, state);
  if (!solved.ok || !found.ok) throw new Error('not solved');
  const { networks } = solver;
  const network = tangentNetwork(networks, networks.make(state, solved.value.rise_K));
  const capacity_J_per_K = model.capacity_J_per_m3K.map((capacity, cell) => {
    const column = Math.floor(cell / model.nz);
    return capacity * volumeOf(model.grid, column % model.nx, Math.floor(column / model.nx), cell % model.nz);
  });
  // Power off: after two time constants only the slowest mode is left, and the ratio over a known time gives its pace.
  const cooled = solveTransient(
    { ...network, capacity_J_per_K },
    {
      start_K: solved.value.rise_K,
      phases: [
        { duration_s: 2 * found.value, steps: 200, source_W: new Float64Array(model.partOf.length) },
        { duration_s: 0.5 * found.value, steps: 200, source_W: new Float64Array(model.partOf.length) },
      ],
      probes: [{ cells: [Math.floor(model.partOf.length / 2)], weights: [1] }],
    },
  );
  if (!cooled.ok) throw new Error(cooled.reason.kind);
  const [probe] = cooled.value.probes_K;
  const [from, to] = [probe?.[200] as number, probe?.at(-1) as number];
  // The second-order scheme at 400 steps a time constant is good to parts in a million; the rest is what other modes have left.
  expect((0.5 * found.value) / Math.log(from / to) / found.value).toBeCloseTo(1, 3);
});
