import { kelvinFromCelsius } from '../../measure/index.js';
import { bendsOf, type DeviceState } from '../device/device-network.js';
import { bendParts, fillGaps, fillParts } from '../device/fill-network.kernel.js';
import { type Film, filmAt, findOuterFaces, type OuterFace } from '../device/outer-faces.js';
import { fillEast, fillNorth, fillUp, findSeams } from '../solve/assemble.kernel.js';
import type { FaceName } from '../solve/faces.js';
import { measureCells } from '../solve/grid.js';
import type { HeatNetwork } from '../solve/network.js';
import type { QuickModel } from './quick-model.js';
import { addFaceSinks, meanOfFace } from './quick-network.kernel.js';

/** A network about a field in buffers that are used again: valid until the next one is filled into the same place. */
export interface QuickNetwork {
  /** What one further kelvin loses at the outer faces is in its sinks. */
  readonly network: HeatNetwork;
  /** What the whole rise loses, from the same faces, W/K. */
  readonly held_W_per_K: Float64Array;
  /** What faces that touch something warm put in, W; and what sources put in. */
  readonly source_W: Float64Array;
}

/** How the cells of one outer face lie in the arrays: two strides, the way inwards, and how it is drawn on from two cells. */
interface FaceLayout {
  readonly outer: OuterFace;
  readonly first: number;
  readonly strideA: number;
  readonly strideB: number;
  readonly sizesA: Float64Array;
  readonly sizesB: Float64Array;
  readonly depth: number;
  readonly inward: number;
  /** How much of the second cell's difference the surface lies beyond the first; negative, as it lies outside both. */
  readonly drawn: number;
  readonly isLevel: boolean;
}

interface Buffers {
  readonly key: string;
  readonly kx: Float64Array;
  readonly kz: Float64Array;
  readonly resistance: Float64Array;
  readonly places: readonly [Place, Place];
}

interface Place {
  readonly east_W_per_K: Float64Array;
  readonly north_W_per_K: Float64Array;
  readonly up_W_per_K: Float64Array;
  readonly sink_W_per_K: Float64Array;
  readonly held_W_per_K: Float64Array;
  readonly source_W: Float64Array;
}

/**
 * Makes networks of many models one after the other, without new memory as long as their cells are as many.
 *
 * The physics is that of `DeviceNetworks`, which is made for one device and keeps every network apart.
 */
export class QuickNetworks {
  private buffers: Buffers | undefined;

  /** @param place which of two networks is overwritten */
  fill(place: 0 | 1, model: QuickModel, state: DeviceState, rise_K: Float64Array): QuickNetwork {
    const { nx, ny, nz, grid, laid, gaps } = model;
    const { kx, kz, resistance, places } = this.buffersFor(model);
    const into = places[place];
    const { dx_m, dy_m, dz_m } = measureCells(grid);
    const factor = (id: string | undefined) => (id === undefined ? 1 : (state.factors.get(id) ?? 1));
    const through = laid.parts.map(({ scaledBy }) => factor(scaledBy.through?.id));
    fillParts(
      model.partOf,
      Float64Array.from(
        laid.parts,
        ({ kInPlane_W_per_mK, scaledBy }) => kInPlane_W_per_mK * factor(scaledBy.inPlane?.id),
      ),
      Float64Array.from(
        laid.parts,
        ({ kThrough_W_per_mK }, part) => kThrough_W_per_mK * (through[part] as number),
      ),
      kx,
      kz,
    );
    const bends = bendsOf(laid);
    if (bends !== null) bendParts(model.partOf, bends, rise_K, state.ambient_C, kx, kz);
    const { first, last, thickness_m, emissivity, part } = gaps;
    fillGaps(
      rise_K,
      kelvinFromCelsius(state.ambient_C),
      first,
      last,
      thickness_m,
      emissivity,
      part,
      Float64Array.from(through),
      kx,
      kz,
    );
    const pressed = Float64Array.of(
      0,
      ...laid.contacts.map(
        ({ resistance_m2K_per_W, scaledBy }) => resistance_m2K_per_W / factor(scaledBy.id),
      ),
    );
    for (let cell = 0; cell < resistance.length; cell++)
      resistance[cell] = pressed[model.contactOf[cell] as number] as number;
    fillEast(kx, dx_m, dy_m, dz_m, undefined, into.east_W_per_K);
    fillNorth(kx, dx_m, dy_m, dz_m, undefined, into.north_W_per_K);
    fillUp(kz, dx_m, dy_m, dz_m, laid.contacts.length > 0 ? resistance : undefined, into.up_W_per_K);

    into.sink_W_per_K.fill(0);
    into.held_W_per_K.fill(0);
    into.source_W.fill(0);
    for (const { id, cells, shares } of model.heat) {
      const power_W = state.power_W.get(id) ?? 0;
      if (power_W === 0) continue;
      for (let at = 0; at < cells.length; at++) {
        const cell = cells[at] as number;
        into.source_W[cell] = (into.source_W[cell] as number) + power_W * (shares[at] as number);
      }
    }
    for (const face of layFaces(model, { dx_m, dy_m, dz_m })) {
      const film = filmOf(face, rise_K, state, factor);
      const k = face.isLevel ? kz : kx;
      const add = (h: number, share: number, to: Float64Array) =>
        addFaceSinks(
          k,
          face.first,
          face.strideA,
          face.strideB,
          face.depth,
          face.sizesA,
          face.sizesB,
          h,
          share,
          to,
        );
      add(film.slope_W_per_m2K, 1, into.sink_W_per_K);
      add(film.h_W_per_m2K, 1, into.held_W_per_K);
      if (film.drivenBy_K !== 0) add(film.h_W_per_m2K, film.drivenBy_K, into.source_W);
    }
    return {
      network: {
        nx,
        ny,
        nz,
        east_W_per_K: into.east_W_per_K,
        north_W_per_K: into.north_W_per_K,
        up_W_per_K: into.up_W_per_K,
        sink_W_per_K: into.sink_W_per_K,
        lines: {
          dx_m,
          dy_m,
          seamsX: findSeams(kx, nx, ny, nz, true),
          seamsY: findSeams(kx, nx, ny, nz, false),
        },
      },
      held_W_per_K: into.held_W_per_K,
      source_W: into.source_W,
    };
  }

  private buffersFor({ nx, ny, nz }: QuickModel): Buffers {
    const key = `${nx} ${ny} ${nz}`;
    if (this.buffers?.key === key) return this.buffers;
    const n = nx * ny * nz;
    const make = (): Place => ({
      east_W_per_K: new Float64Array(n),
      north_W_per_K: new Float64Array(n),
      up_W_per_K: new Float64Array(n),
      sink_W_per_K: new Float64Array(n),
      held_W_per_K: new Float64Array(n),
      source_W: new Float64Array(n),
    });
    this.buffers = {
      key,
      kx: new Float64Array(n),
      kz: new Float64Array(n),
      resistance: new Float64Array(n),
      places: [make(), make()],
    };
    return this.buffers;
  }
}

function filmOf(
  face: FaceLayout,
  rise_K: Float64Array,
  state: DeviceState,
  factor: (id: string | undefined) => number,
): Film {
  const { first, strideA, strideB, sizesA, sizesB, inward, drawn, outer } = face;
  const mean_K = meanOfFace(rise_K, first, strideA, strideB, inward, sizesA, sizesB, drawn);
  return filmAt(outer, mean_K, state.ambient_C, factor(outer.unknown.id));
}

function layFaces(
  { nx, nz, laid, surroundings, grid }: QuickModel,
  {
    dx_m,
    dy_m,
    dz_m,
  }: { readonly dx_m: Float64Array; readonly dy_m: Float64Array; readonly dz_m: Float64Array },
): FaceLayout[] {
  const shell = laid.parts.find(({ role }) => role === 'shell');
  const plane = nx * nz;
  const across: Readonly<
    Record<
      FaceName,
      {
        readonly edges: Float64Array;
        readonly stride: number;
        readonly atStart: boolean;
        readonly a: 'x' | 'z';
        readonly b: 'x' | 'y';
      }
    >
  > = {
    front: { edges: grid.z_m, stride: 1, atStart: true, a: 'x', b: 'y' },
    back: { edges: grid.z_m, stride: 1, atStart: false, a: 'x', b: 'y' },
    west: { edges: grid.x_m, stride: nz, atStart: true, a: 'z', b: 'y' },
    east: { edges: grid.x_m, stride: nz, atStart: false, a: 'z', b: 'y' },
    south: { edges: grid.y_m, stride: plane, atStart: true, a: 'z', b: 'x' },
    north: { edges: grid.y_m, stride: plane, atStart: false, a: 'z', b: 'x' },
  };
  const strides = { x: nz, y: plane, z: 1 };
  const sizes = { x: dx_m, y: dy_m, z: dz_m };
  return findOuterFaces(laid, surroundings, shell?.emissivity ?? 0.9).map((outer): FaceLayout => {
    const { edges, stride, atStart, a, b } = across[outer.face];
    const count = edges.length - 1;
    const size = (at: number) => (edges[at + 1] as number) - (edges[at] as number);
    const [near, far] = atStart ? [0, 1] : [count - 1, count - 2];
    const depth = size(near);
    return {
      outer,
      first: atStart ? 0 : (count - 1) * stride,
      strideA: strides[a],
      strideB: strides[b],
      sizesA: sizes[a],
      sizesB: sizes[b],
      depth,
      inward: count < 2 ? 0 : atStart ? stride : -stride,
      drawn: count < 2 ? 0 : -depth / (depth + size(far)),
      isLevel: outer.face === 'front' || outer.face === 'back',
    };
  });
}
