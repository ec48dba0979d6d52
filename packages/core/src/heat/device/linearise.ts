/** How a device answers to small changes about a field: what adjoints need, and what they tell. */
import { kelvinFromCelsius } from '../../measure/index.js';
import { type FaceName, faceSinks_W_per_K } from '../solve/faces.js';
import type { DeviceModel } from './device-model.js';
import { type DeviceNetwork, type DeviceNetworks, type DeviceState, factorOf } from './device-network.js';
import { drawOutFace, eachFaceCell, meanSurfaceRise_K } from './face-cells.js';
import { pullOfBends, pullOfGaps } from './fill-network.kernel.js';
import type { Film } from './outer-faces.js';
import { sumSlopes } from './slopes.kernel.js';

/**
 * What the linearised network leaves out of the heat each cell sheds, seen by an adjoint: gaps that pass more when they are warm, conductivities that
 * follow their cells, and films that follow the mean of a face and not each cell. To be asked for the network that was made last, about the same field.
 *
 * @param pull_W_per_K receives it, one number for each cell
 */
export function pullOf(
  networks: DeviceNetworks,
  state: DeviceState,
  { network, films }: Pick<DeviceNetwork, 'network' | 'films'>,
  adjoint: Float64Array,
  rise_K: Float64Array,
  pull_W_per_K: Float64Array,
): void {
  const { model } = networks;
  const { gaps, laid } = model;
  const { dx, dy, dz } = sizesOf(model);
  const areas = Float64Array.from(
    { length: dx.length * dy.length },
    (_, column) => (dx[column % dx.length] as number) * (dy[Math.floor(column / dx.length)] as number),
  );
  pullOfGaps(
    adjoint,
    rise_K,
    networks.kz,
    network.up_W_per_K,
    dz,
    areas,
    kelvinFromCelsius(state.ambient_C),
    gaps.first,
    gaps.last,
    gaps.thickness_m,
    gaps.emissivity,
    gaps.part,
    Float64Array.from(laid.parts, ({ scaledBy }) => factorOf(state, scaledBy.through?.id)),
    pull_W_per_K,
  );
  if (networks.bends !== null) {
    const { east_W_per_K, north_W_per_K, up_W_per_K } = network;
    pullOfBends(
      adjoint,
      rise_K,
      east_W_per_K,
      north_W_per_K,
      up_W_per_K,
      networks.kx,
      networks.kz,
      dx,
      dy,
      dz,
      model.partOf,
      networks.bends,
      state.ambient_C,
      pull_W_per_K,
    );
  }
  for (const { face } of networks.outer)
    pullOfFilm(networks, face, films[face], adjoint, rise_K, pull_W_per_K);
}

/** A film's slope acts through the mean of its face: the network has it act cell by cell, and the difference is put right here. */
function pullOfFilm(
  networks: DeviceNetworks,
  face: FaceName,
  { h_W_per_m2K, slope_W_per_m2K }: Film,
  adjoint: Float64Array,
  rise_K: Float64Array,
  pull_W_per_K: Float64Array,
): void {
  const { model, kx, kz } = networks;
  const conductivity = { kx, ky: kx, kz };
  const sinks = (film: number) => faceSinks_W_per_K(model.grid, conductivity, face, film);
  const [held, moved] = [sinks(h_W_per_m2K), sinks(slope_W_per_m2K)];
  const mean_K = meanSurfaceRise_K(model, face, rise_K);
  if (!(mean_K > 0)) return;
  let seen = 0;
  let area_m2 = 0;
  eachFaceCell(model, face, (cell, index, area) => {
    const extra = (moved[index] as number) - (held[index] as number);
    seen += extra * ((rise_K[cell] as number) / mean_K) * (adjoint[cell] as number);
    area_m2 += area;
    pull_W_per_K[cell] = (pull_W_per_K[cell] as number) - extra * (adjoint[cell] as number);
  });
  const { share, step } = drawOutFace(model, face);
  eachFaceCell(model, face, (cell, _, area) => {
    const weight = (seen * area) / area_m2;
    pull_W_per_K[cell] = (pull_W_per_K[cell] as number) + weight * (1 - share);
    pull_W_per_K[cell + step] = (pull_W_per_K[cell + step] as number) + weight * share;
  });
}

/**
 * How a reading hangs on the unknowns' logarithms, heat left out, K. To be asked for the network that was made last, about the same field.
 *
 * @param adjoint of the reading
 * @returns by the ids of unknowns
 * @source [GILES-PIERCE-00] the adjoint identity: minus adjoint times change of the network times field
 */
export function slopesOf(
  networks: DeviceNetworks,
  { network, films }: Pick<DeviceNetwork, 'network' | 'films'>,
  adjoint: Float64Array,
  rise_K: Float64Array,
): Map<string, number> {
  const { model, kx, kz } = networks;
  const { parts, contacts } = model.laid;
  const along = new Float64Array(parts.length);
  const through = new Float64Array(parts.length);
  const pressed = new Float64Array(contacts.length + 1);
  const { dx, dy, dz } = sizesOf(model);
  const isAir = Uint8Array.from(parts, ({ role }) => (role === 'air' ? 1 : 0));
  const { east_W_per_K, north_W_per_K, up_W_per_K } = network;
  sumSlopes(
    adjoint,
    rise_K,
    kx,
    kz,
    east_W_per_K,
    north_W_per_K,
    up_W_per_K,
    dx,
    dy,
    dz,
    model.partOf,
    isAir,
    model.contactOf,
    networks.resistances,
    along,
    through,
    pressed,
  );
  const slopes = new Map<string, number>();
  const add = (id: string | undefined, sum: number) => {
    if (id !== undefined) slopes.set(id, (slopes.get(id) ?? 0) - sum);
  };
  for (const { face, unknown } of networks.outer)
    addFilmSlopes(networks, face, films[face], adjoint, rise_K, along, through, (sum) =>
      add(unknown.id, sum),
    );
  parts.forEach(({ scaledBy }, part) => {
    add(scaledBy.inPlane?.id, along[part] as number);
    add(scaledBy.through?.id, through[part] as number);
  });
  contacts.forEach(({ scaledBy }, index) => {
    add(scaledBy.id, pressed[index + 1] as number);
  });
  return slopes;
}

/** What an outer face adds: its film, and the half cell before it. */
function addFilmSlopes(
  networks: DeviceNetworks,
  face: FaceName,
  { h_W_per_m2K, drivenBy_K }: Film,
  adjoint: Float64Array,
  rise_K: Float64Array,
  along: Float64Array,
  through: Float64Array,
  addFilm: (sum: number) => void,
): void {
  const { model, kx, kz } = networks;
  const conductivity = { kx, ky: kx, kz };
  const sinks = faceSinks_W_per_K(model.grid, conductivity, face, h_W_per_m2K);
  const isLevel = face === 'front' || face === 'back';
  let film = 0;
  eachFaceCell(model, face, (cell, index, area) => {
    const sink = sinks[index] as number;
    const seen = (adjoint[cell] as number) * ((rise_K[cell] as number) - drivenBy_K);
    const share = sink / (h_W_per_m2K * area);
    film += seen * sink * share;
    const sums = isLevel ? through : along;
    const part = model.partOf[cell] as number;
    sums[part] = (sums[part] as number) + seen * sink * (1 - share);
  });
  addFilm(film);
}

function sizesOf({ grid }: Pick<DeviceModel, 'grid'>) {
  const sizes = (edges_m: Float64Array) =>
    Float64Array.from(
      { length: edges_m.length - 1 },
      (_, at) => (edges_m[at + 1] as number) - (edges_m[at] as number),
    );
  return { dx: sizes(grid.x_m), dy: sizes(grid.y_m), dz: sizes(grid.z_m) };
}
