import { expect, test } from 'vitest';
import { smallDevice, smallSetups } from '../../../test/heat/small-device.js';
import { makeNoise } from '../../numerics/index.js';
import type { Build, Setup } from '../../records/index.js';
import { applyNetwork } from '../solve/krylov.kernel.js';
import { dot } from '../solve/vectors.kernel.js';
import { makeDeviceModel } from './device-model.js';
import { DeviceNetworks } from './device-network.js';
import { coarsen, soakGrid } from './lay-grid.js';
import { applyTransposed, lineariseDevice } from './linearise.js';

const bent: Setup = {
  ...smallSetups.strips,
  layers: smallSetups.strips.layers.map((layer) => ({ ...layer, kSlope_per_K: 0.005, k_W_per_mK: 0.3 })),
};
const plain = smallDevice();
const held: Build = {
  ...plain,
  device: {
    ...(plain.device as NonNullable<Build['device']>),
    surroundings: { front: 'hand', back: 'cloth' },
  },
};

// The definition of a transposed Jacobian: the residual along any direction, by central differences, weighted by any adjoint.
test.each([
  ['in air', plain, smallSetups.plate],
  ['in a hand, on a cloth', held, smallSetups.bare],
  ['with layers that follow their temperature', plain, bent],
])('the linearisation is that of the equations themselves: %s', (_, build, setup) => {
  const model = makeDeviceModel(build, setup, { grid: coarsen(soakGrid) });
  const { nx, ny, nz } = model;
  const state = {
    factors: new Map([
      ['bay', 1.3],
      ['film-front', 0.8],
    ]),
    power_W: new Map([['chip', 2]]),
    ambient_C: 22,
  };
  const noise = makeNoise(7);
  const draw = () => Float64Array.from(model.partOf, () => noise.uniform());
  const rise_K = draw().map((share) => 10 + 20 * share);
  const [adjoint, direction] = [draw(), draw()];
  const networks = new DeviceNetworks(model);
  const residualAt = (by: number) => {
    const { network, source_W } = networks.make(
      state,
      rise_K.map((rise, cell) => rise + by * (direction[cell] as number)),
    );
    const { east_W_per_K: E, north_W_per_K: N, up_W_per_K: U, sink_W_per_K: s } = network;
    const residual = new Float64Array(rise_K.length);
    const at_K = rise_K.map((rise, cell) => rise + by * (direction[cell] as number));
    applyNetwork({ E, N, U, s }, nx, ny, nz, at_K, residual);
    return dot(adjoint, residual) - dot(adjoint, source_W);
  };
  const step = 1e-3;
  const difference = (residualAt(step) - residualAt(-step)) / (2 * step);
  const image = new Float64Array(rise_K.length);
  const made = networks.make(state, rise_K);
  applyTransposed(lineariseDevice(networks, state, rise_K, made), adjoint, image);
  expect(dot(image, direction) / difference).toBeCloseTo(1, 6);
  // What the symmetric part alone would say is off by far more than that.
  const { east_W_per_K: E, north_W_per_K: N, up_W_per_K: U, sink_W_per_K: s } = made.network;
  applyNetwork({ E, N, U, s }, nx, ny, nz, adjoint, image);
  expect(Math.abs(dot(image, direction) / difference - 1)).toBeGreaterThan(1e-4);
});
