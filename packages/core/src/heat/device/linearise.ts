/** How a device answers to small changes about a field: what Newton steps and adjoints need, and what adjoints tell. */
import { kelvinFromCelsius } from '../../measure/index.js';
import { applyNetwork } from '../solve/krylov.kernel.js';
import { lettersOf } from '../solve/level.js';
import type { HeatNetwork } from '../solve/network.js';
import { type DeviceNetwork, type DeviceNetworks, type DeviceState, factorOf } from './device-network.js';
import { meanOfFace } from './fill-network.kernel.js';
import { cellsOfFace, type FaceLayout } from './lay-faces.js';
import { filmTrendAt } from './outer-faces.js';
import { pullOfBends, pullOfGaps, sumSlopes } from './slopes.kernel.js';

/** What one outer face does to the equations of its cells, cell by cell. */
interface FaceTangent {
  readonly face: FaceLayout;
  readonly cells: Int32Array;
  /** Heat lost, W, and its change with the logarithm of the film and with that of the half cell before it. */
  readonly perFilm_W: Float64Array;
  readonly perHalfCell_W: Float64Array;
  /** Its change with the mean rise of the face, W/K, on which the film hangs. */
  readonly perMean_W_per_K: Float64Array;
  /** Weight of each cell in that mean. */
  readonly weights: Float64Array;
}

/** The equations of a device about one field, with all that hangs on temperature. Valid until its networks make another. */
export interface Linearisation {
  readonly networks: DeviceNetworks;
  readonly state: DeviceState;
  readonly rise_K: Float64Array;
  readonly made: DeviceNetwork;
  readonly faces: readonly FaceTangent[];
}

/** @param made the network that `networks` made last, about this field */
export function lineariseDevice(
  networks: DeviceNetworks,
  state: DeviceState,
  rise_K: Float64Array,
  made: DeviceNetwork,
): Linearisation {
  const faces = networks.faces.map((face): FaceTangent => {
    const { h_W_per_m2K: h, drivenBy_K } = made.films[face.face];
    const across = networks.across(face);
    const { cells, areas_m2 } = cellsOfFace(face);
    const perFilm_W = new Float64Array(cells.length);
    const perHalfCell_W = new Float64Array(cells.length);
    for (let at = 0; at < cells.length; at++) {
      const cell = cells[at] as number;
      // Film and half cell in series: each has the share of the change that it has of the resistance.
      const share = 1 / (1 + 0.5 * face.depth * (across[cell] as number) * h);
      const lost_W = share * h * (areas_m2[at] as number) * ((rise_K[cell] as number) - drivenBy_K);
      perFilm_W[at] = lost_W * share;
      perHalfCell_W[at] = lost_W * (1 - share);
    }
    const factor = factorOf(state, face.unknown.id);
    const perLog = filmTrendAt(face, meanOfFace(face, rise_K), state.ambient_C, factor) / h;
    return {
      face,
      cells,
      perFilm_W,
      perHalfCell_W,
      perMean_W_per_K: perFilm_W.map((lost_W) => lost_W * perLog),
      weights: areas_m2.map((area) => area / face.area_m2),
    };
  });
  return { networks, state, rise_K, made, faces };
}

/**
 * The symmetric network that comes nearest to a linearisation: films count with what they lose per further kelvin, cell by cell. What it
 * leaves out is a few per cent: that a film follows the mean of its face, and that gaps and some materials pass more when they are warm.
 *
 * @param into receives its sinks, W/K in each cell
 */
export function tangentNetwork(
  networks: DeviceNetworks,
  { network, films }: Pick<DeviceNetwork, 'network' | 'films'>,
  into?: Float64Array,
): HeatNetwork {
  return { ...network, sink_W_per_K: networks.tangentSinks(films, into) };
}

/**
 * The transposed linearisation on an adjoint, whole: how the sum of all equations' residuals, weighted by the adjoint, changes with each
 * cell's temperature.
 *
 * @param into receives it, one number for each cell
 */
export function applyTransposed(linear: Linearisation, adjoint: Float64Array, into: Float64Array): void {
  const { networks, state, rise_K, made, faces } = linear;
  const { gaps, partOf, nx, ny, nz } = networks.model;
  const g = lettersOf(made.network);
  applyNetwork(g, nx, ny, nz, adjoint, into);
  const ambient_K = kelvinFromCelsius(state.ambient_C);
  const { rx, rz, shapes, gapFactors, bends } = networks;
  pullOfGaps(adjoint, rise_K, g, rx, rz, shapes, ambient_K, gaps, gapFactors, into);
  if (bends !== null) pullOfBends(adjoint, rise_K, g, rx, rz, shapes, partOf, bends, state.ambient_C, into);
  for (const { face, cells, perMean_W_per_K, weights } of faces) {
    let seen = 0;
    for (let at = 0; at < cells.length; at++)
      seen += (perMean_W_per_K[at] as number) * (adjoint[cells[at] as number] as number);
    for (let at = 0; at < cells.length; at++) {
      const cell = cells[at] as number;
      const weight = seen * (weights[at] as number);
      const behind = cell + face.inward;
      into[cell] = (into[cell] as number) + weight * (1 - face.drawn);
      into[behind] = (into[behind] as number) + weight * face.drawn;
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
  const { networks, rise_K, made, faces } = linear;
  const { model, rx, rz, shapes, contacts_m2K_per_W } = networks;
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
    rx,
    rz,
    shapes,
    partOf,
    isAir,
    contactOf,
    contacts_m2K_per_W,
    along,
    through,
    pressed,
  );
  const slopes = new Map<string, number>();
  const add = (id: string | undefined, sum: number) => {
    if (id !== undefined) slopes.set(id, (slopes.get(id) ?? 0) - sum);
  };
  for (const { face, cells, perFilm_W, perHalfCell_W } of faces) {
    const sums = face.isLevel ? through : along;
    let film = 0;
    for (let at = 0; at < cells.length; at++) {
      const cell = cells[at] as number;
      const seen = adjoint[cell] as number;
      film += seen * (perFilm_W[at] as number);
      const part = partOf[cell] as number;
      sums[part] = (sums[part] as number) + seen * (perHalfCell_W[at] as number);
    }
    add(face.unknown.id, film);
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
