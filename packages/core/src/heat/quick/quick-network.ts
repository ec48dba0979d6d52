import { carryAcrossGaps } from '../device/carry-across-gaps.js';
import { bendsOf, type DeviceState, factorOf } from '../device/device-network.js';
import { type Film, filmAt, findOuterFaces, type OuterFace } from '../device/outer-faces.js';
import { findSeams } from '../solve/assemble.kernel.js';
import type { FaceName } from '../solve/faces.js';
import { measureCells } from '../solve/grid.js';
import type { HeatNetwork } from '../solve/network.js';
import type { QuickModel } from './quick-model.js';
import {
  addFaceFlows,
  addFaceSinks,
  addGapFlows,
  bendResistivities,
  carryOff,
  fillConductances,
  fillResistivities,
  invertGaps,
  meanOfFace,
} from './quick-network.kernel.js';

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

/** Room for one size of problem. */
interface Buffers {
  readonly rx: Float64Array;
  readonly rz: Float64Array;
  readonly nowX: Float64Array;
  readonly nowZ: Float64Array;
  readonly east_W_per_K: Float64Array;
  readonly north_W_per_K: Float64Array;
  readonly up_W_per_K: Float64Array;
  readonly sink_W_per_K: Float64Array;
}

/** What stays of a model while its fields change. */
interface Frame {
  readonly model: QuickModel;
  readonly factors: DeviceState['factors'];
  readonly sizes: Sizes;
  readonly faces: readonly FaceLayout[];
  readonly gapFactors: Float64Array;
  readonly contacts_m2K_per_W: Float64Array;
}

type Sizes = Readonly<Record<'dx_m' | 'dy_m' | 'dz_m', Float64Array>>;

/**
 * Networks of many models one after the other, without new memory as long as their cells are as many: one at a time, and Newton steps on it.
 *
 * The physics is that of `DeviceNetworks`, which is made for one device and keeps every network apart.
 */
export class QuickNetworks {
  private buffers: Buffers | undefined;
  private frame: Frame | undefined;

  /** The network about a field, valid until the next is filled: what one further kelvin loses at the outer faces is in its sinks. */
  fill(model: QuickModel, state: DeviceState, rise_K: Float64Array): HeatNetwork {
    const { nx, ny, nz, laid, gaps } = model;
    const frame = this.frameFor(model, state);
    const { rx, rz, east_W_per_K, north_W_per_K, up_W_per_K, sink_W_per_K } = this.buffersFor(model);
    const { dx_m, dy_m, dz_m } = frame.sizes;
    const factor = (id: string | undefined) => factorOf(state, id);
    fillResistivities(
      model.partOf,
      Float64Array.from(
        laid.parts,
        ({ kInPlane_W_per_mK, scaledBy }) => 1 / (kInPlane_W_per_mK * factor(scaledBy.inPlane?.id)),
      ),
      Float64Array.from(
        laid.parts,
        ({ kThrough_W_per_mK, scaledBy }) => 1 / (kThrough_W_per_mK * factor(scaledBy.through?.id)),
      ),
      rx,
      rz,
    );
    const bends = bendsOf(laid);
    // As they are where the network is filled; a step on an older one leaves them there.
    if (bends !== null) bendResistivities(model.partOf, bends, rise_K, state.ambient_C, rx, rz);
    carryAcrossGaps(model.gaps, state.ambient_C, rise_K, frame.gapFactors, rx, rz);
    invertGaps(gaps.first, gaps.last, rx, rz);
    const { contactOf } = model;
    const R = frame.contacts_m2K_per_W;
    fillConductances(rx, rz, dx_m, dy_m, dz_m, contactOf, R, east_W_per_K, north_W_per_K, up_W_per_K);
    sink_W_per_K.fill(0);
    for (const face of frame.faces) {
      const { first, strideA, strideB, depth, sizesA, sizesB } = face;
      const film = filmOf(face, rise_K, state).slope_W_per_m2K;
      addFaceSinks(
        face.isLevel ? rz : rx,
        first,
        strideA,
        strideB,
        depth,
        sizesA,
        sizesB,
        film,
        sink_W_per_K,
      );
    }
    return {
      nx,
      ny,
      nz,
      east_W_per_K,
      north_W_per_K,
      up_W_per_K,
      sink_W_per_K,
      lines: {
        dx_m,
        dy_m,
        seamsX: findSeams(rx, nx, ny, nz, true),
        seamsY: findSeams(rx, nx, ny, nz, false),
      },
    };
  }

  /**
   * The source with which the network filled last gives the next Newton step from a field: b - A(x) x + J x.
   *
   * Where the network is an older one, gaps pass what they pass now. How well air conducts along a gap is left as it was: a few thousandths of
   * the heat go that way, and a kelvin changes it by two thousandths.
   *
   * @param isAbout true where the network was filled about this field
   * @param into receives it, W in each cell
   */
  sourceOfStep(state: DeviceState, rise_K: Float64Array, isAbout: boolean, into: Float64Array): void {
    const { frame, buffers } = this;
    if (frame === undefined || buffers === undefined) throw new RangeError('Fill a network first.');
    const { heat, gaps, contactOf } = frame.model;
    const { rx, rz, nowX, nowZ, up_W_per_K, sink_W_per_K } = buffers;
    carryOff(sink_W_per_K, rise_K, into);
    for (const { id, cells, shares } of heat) {
      const power_W = state.power_W.get(id) ?? 0;
      if (power_W === 0) continue;
      for (let at = 0; at < cells.length; at++) {
        const cell = cells[at] as number;
        into[cell] = (into[cell] as number) + power_W * (shares[at] as number);
      }
    }
    for (const face of frame.faces) {
      const { first, strideA, strideB, depth, sizesA, sizesB } = face;
      const { h_W_per_m2K, drivenBy_K } = filmOf(face, rise_K, state);
      const r = face.isLevel ? rz : rx;
      addFaceFlows(r, first, strideA, strideB, depth, sizesA, sizesB, h_W_per_m2K, drivenBy_K, rise_K, into);
    }
    if (isAbout) return;
    carryAcrossGaps(gaps, state.ambient_C, rise_K, frame.gapFactors, nowX, nowZ);
    const { dx_m, dy_m, dz_m } = frame.sizes;
    const R = frame.contacts_m2K_per_W;
    addGapFlows(gaps.first, gaps.last, nowZ, rz, dx_m, dy_m, dz_m, contactOf, R, up_W_per_K, rise_K, into);
  }

  private frameFor(model: QuickModel, state: DeviceState): Frame {
    const { factors } = state;
    if (this.frame?.model === model && this.frame.factors === factors) return this.frame;
    const sizes = measureCells(model.grid);
    this.frame = {
      model,
      factors,
      sizes,
      faces: layFaces(model, sizes),
      gapFactors: Float64Array.from(model.laid.parts, ({ scaledBy }) =>
        factorOf(state, scaledBy.through?.id),
      ),
      contacts_m2K_per_W: Float64Array.of(
        0,
        ...model.laid.contacts.map(
          ({ resistance_m2K_per_W, scaledBy }) => resistance_m2K_per_W / factorOf(state, scaledBy.id),
        ),
      ),
    };
    return this.frame;
  }

  private buffersFor({ partOf: { length } }: QuickModel): Buffers {
    if (this.buffers?.rx.length === length) return this.buffers;
    const make = () => new Float64Array(length);
    this.buffers = {
      rx: make(),
      rz: make(),
      nowX: make(),
      nowZ: make(),
      east_W_per_K: make(),
      north_W_per_K: make(),
      up_W_per_K: make(),
      sink_W_per_K: make(),
    };
    return this.buffers;
  }
}

function filmOf(face: FaceLayout, rise_K: Float64Array, state: DeviceState): Film {
  const { first, strideA, strideB, sizesA, sizesB, inward, drawn, outer } = face;
  const mean_K = meanOfFace(rise_K, first, strideA, strideB, inward, sizesA, sizesB, drawn);
  return filmAt(outer, mean_K, state.ambient_C, factorOf(state, outer.unknown.id));
}

function layFaces(
  { nx, nz, laid, surroundings, grid }: QuickModel,
  { dx_m, dy_m, dz_m }: Sizes,
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
