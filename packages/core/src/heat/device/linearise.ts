/** How a device answers to small changes about a field: what Newton steps and adjoints need, and what adjoints tell. */
import { kelvinFromCelsius } from '../../measure/index.js';
import { type FaceName, faceSinks_W_per_K } from '../solve/faces.js';
import { applyNetwork } from '../solve/krylov.kernel.js';
import { lettersOf } from '../solve/level.js';
import type { HeatNetwork } from '../solve/network.js';
import type { DeviceModel } from './device-model.js';
import { type DeviceNetwork, type DeviceNetworks, type DeviceState, factorOf } from './device-network.js';
import { drawOutFace, eachFaceCell, meanSurfaceRise_K } from './face-cells.js';
import { type CellShapes, pullOfBends, pullOfGaps } from './fill-network.kernel.js';
import { filmTrendAt } from './outer-faces.js';
import { sumSlopes } from './slopes.kernel.js';

/** What one outer face does to the equations of its cells, cell by cell. */
interface FaceTangent {
  readonly unknown: string;
  readonly cells: Int32Array;
  /** Heat lost, W, and its change with the logarithm of the film and with that of the half cell before it. */
  readonly perFilm_W: Float64Array;
  readonly perHalfCell_W: Float64Array;
  /** Its change with the mean rise of the face, W/K, on which the film hangs. */
  readonly perMean_W_per_K: Float64Array;
  /** Weight of each cell in that mean, and how it is drawn on from the one behind. */
  readonly weights: Float64Array;
  readonly share: number;
  readonly step: number;
  readonly isLevel: boolean;
}

/** The equations of a device about one field, with all that hangs on temperature. Valid until its networks make another. */
export interface Linearisation {
  readonly networks: DeviceNetworks;
  readonly state: DeviceState;
  readonly rise_K: Float64Array;
  readonly made: DeviceNetwork;
  readonly shapes: CellShapes;
  readonly gapFactors: Float64Array;
  readonly faces: readonly FaceTangent[];
}

/** @param made the network that `networks` made last, about this field */
export function lineariseDevice(
  networks: DeviceNetworks,
  state: DeviceState,
  rise_K: Float64Array,
  made: DeviceNetwork,
): Linearisation {
  const { model, kx, kz } = networks;
  const { grid } = model;
  const conductivity = { kx, ky: kx, kz };
  const faces = networks.outer.map((outer): FaceTangent => {
    const { face, unknown } = outer;
    const { h_W_per_m2K: h, drivenBy_K } = made.films[face];
    const sinks = faceSinks_W_per_K(grid, conductivity, face, h);
    const count = sinks.length;
    const [cells, weights] = [new Int32Array(count), new Float64Array(count)];
    const perFilm_W = new Float64Array(count);
    const perHalfCell_W = new Float64Array(count);
    let area_m2 = 0;
    eachFaceCell(model, face, (cell, index, area) => {
      const lost_W = (sinks[index] as number) * ((rise_K[cell] as number) - drivenBy_K);
      // Film and half cell in series: each has the share of the change that it has of the resistance.
      const share = (sinks[index] as number) / (h * area);
      cells[index] = cell;
      weights[index] = area;
      perFilm_W[index] = lost_W * share;
      perHalfCell_W[index] = lost_W * (1 - share);
      area_m2 += area;
    });
    const mean_K = meanSurfaceRise_K(model, face, rise_K);
    const perLog = filmTrendAt(outer, mean_K, state.ambient_C, factorOf(state, unknown.id)) / h;
    return {
      unknown: unknown.id,
      cells,
      perFilm_W,
      perHalfCell_W,
      perMean_W_per_K: perFilm_W.map((lost_W) => lost_W * perLog),
      weights: weights.map((area) => area / area_m2),
      ...drawOutFace(model, face),
      isLevel: face === 'front' || face === 'back',
    };
  });
  return {
    networks,
    state,
    rise_K,
    made,
    shapes: shapesOf(model),
    gapFactors: Float64Array.from(model.laid.parts, ({ scaledBy }) => factorOf(state, scaledBy.through?.id)),
    faces,
  };
}

/**
 * The symmetric network that comes nearest to a linearisation: films count with what they lose per further kelvin, cell by cell. What it
 * leaves out is a few per cent: that a film follows the mean of its face, and that gaps and some materials pass more when they are warm.
 */
export function tangentNetwork(
  { model, kx, kz }: DeviceNetworks,
  { network, films }: Pick<DeviceNetwork, 'network' | 'films'>,
): HeatNetwork {
  const sink_W_per_K = new Float64Array(network.sink_W_per_K.length);
  for (const face of Object.keys(films) as FaceName[]) {
    const sinks = faceSinks_W_per_K(model.grid, { kx, ky: kx, kz }, face, films[face].slope_W_per_m2K);
    eachFaceCell(model, face, (cell, index) => {
      sink_W_per_K[cell] = (sink_W_per_K[cell] as number) + (sinks[index] as number);
    });
  }
  return { ...network, sink_W_per_K };
}

/**
 * The transposed linearisation on an adjoint, whole: how the sum of all equations' residuals, weighted by the adjoint, changes with each
 * cell's temperature.
 *
 * @param into receives it, one number for each cell
 */
export function applyTransposed(linear: Linearisation, adjoint: Float64Array, into: Float64Array): void {
  const { networks, state, rise_K, made, shapes, gapFactors, faces } = linear;
  const { gaps, partOf, nx, ny, nz } = networks.model;
  const g = lettersOf(made.network);
  applyNetwork(g, nx, ny, nz, adjoint, into);
  const ambient_K = kelvinFromCelsius(state.ambient_C);
  const { kx, kz, bends } = networks;
  pullOfGaps(adjoint, rise_K, g, kx, kz, shapes, ambient_K, gaps, gapFactors, into);
  if (bends !== null) pullOfBends(adjoint, rise_K, g, kx, kz, shapes, partOf, bends, state.ambient_C, into);
  for (const { cells, perMean_W_per_K, weights, share, step } of faces) {
    let seen = 0;
    for (let at = 0; at < cells.length; at++)
      seen += (perMean_W_per_K[at] as number) * (adjoint[cells[at] as number] as number);
    for (let at = 0; at < cells.length; at++) {
      const cell = cells[at] as number;
      const weight = seen * (weights[at] as number);
      into[cell] = (into[cell] as number) + weight * (1 - share);
      into[cell + step] = (into[cell + step] as number) + weight * share;
    }
  }
}

/**
 * How a reading hangs on the unknowns' logarithms, heat left out, K.
 *
 * @param adjoint of the reading
 * @returns by the ids of unknowns
 * @source [GILES-PIERCE-00] the adjoint identity: minus adjoint times change of the equations
 */
export function slopesOf(linear: Linearisation, adjoint: Float64Array): Map<string, number> {
  const { networks, rise_K, made, shapes, faces } = linear;
  const { model, kx, kz, resistances } = networks;
  const { parts, contacts } = model.laid;
  const along = new Float64Array(parts.length);
  const through = new Float64Array(parts.length);
  const pressed = new Float64Array(contacts.length + 1);
  const isAir = Uint8Array.from(parts, ({ role }) => (role === 'air' ? 1 : 0));
  const { partOf, contactOf } = model;
  sumSlopes(
    adjoint,
    rise_K,
    lettersOf(made.network),
    kx,
    kz,
    shapes,
    partOf,
    isAir,
    contactOf,
    resistances,
    along,
    through,
    pressed,
  );
  const slopes = new Map<string, number>();
  const add = (id: string | undefined, sum: number) => {
    if (id !== undefined) slopes.set(id, (slopes.get(id) ?? 0) - sum);
  };
  for (const { unknown, cells, perFilm_W, perHalfCell_W, isLevel } of faces) {
    const sums = isLevel ? through : along;
    let film = 0;
    for (let at = 0; at < cells.length; at++) {
      const cell = cells[at] as number;
      const seen = adjoint[cell] as number;
      film += seen * (perFilm_W[at] as number);
      const part = partOf[cell] as number;
      sums[part] = (sums[part] as number) + seen * (perHalfCell_W[at] as number);
    }
    add(unknown, film);
  }
  parts.forEach(({ scaledBy }, part) => {
    add(scaledBy.inPlane?.id, along[part] as number);
    add(scaledBy.through?.id, through[part] as number);
  });
  contacts.forEach(({ scaledBy }, index) => {
    add(scaledBy.id, pressed[index + 1] as number);
  });
  return slopes;
}

function shapesOf({ grid }: Pick<DeviceModel, 'grid'>): CellShapes {
  const sizes = (edges_m: Float64Array) =>
    Float64Array.from(
      { length: edges_m.length - 1 },
      (_, at) => (edges_m[at + 1] as number) - (edges_m[at] as number),
    );
  return { dx: sizes(grid.x_m), dy: sizes(grid.y_m), dz: sizes(grid.z_m) };
}
