import { kelvinFromCelsius } from '../../measure/index.js';
import { findSeams } from '../solve/assemble.kernel.js';
import type { FaceName } from '../solve/faces.js';
import { measureCells } from '../solve/grid.js';
import type { HeatNetwork } from '../solve/network.js';
import type { LaidModel } from './device-model.js';
import {
  addChanges,
  addFilm,
  bendParts,
  type CellShapes,
  fillConductances,
  fillGaps,
  fillParts,
  meanOfFace,
} from './fill-network.kernel.js';
import { type FaceLayout, layFaces } from './lay-faces.js';
import { type Film, filmAt } from './outer-faces.js';

/** What a device is solved for: how it differs from the records, what heats it, and where it is. */
export interface DeviceState {
  /** Factors by the ids of unknowns; 1 where none is given. Other factors come in another map: one that is changed is taken for the same. */
  readonly factors: ReadonlyMap<string, number>;
  /** Heat by source: a zone's id, `board`, `cell-1` and so on, W. */
  readonly power_W: ReadonlyMap<string, number>;
  readonly ambient_C: number;
}

/** The network of a device about one field. */
export interface DeviceNetwork {
  /** With what each outer face loses per kelvin of rise in its sinks. */
  readonly network: HeatNetwork;
  /** Heat put into each cell, W, with what warm hands put in. */
  readonly source_W: Float64Array;
  readonly films: Readonly<Record<FaceName, Film>>;
}

/**
 * Makes the networks of one device again and again, as its temperatures and unknowns change: all its physics, for single fields, for
 * sweeps and for what slopes are found from.
 *
 * Fields of a network it made before stay valid; the resistivities behind them do not.
 */
export class DeviceNetworks {
  readonly model: LaidModel;
  readonly shapes: CellShapes;
  readonly faces: readonly FaceLayout[];
  /** Resistivities along and through, as they were laid last, mK/W. */
  readonly rx: Float64Array;
  readonly rz: Float64Array;
  /** Resistance of each contact as it was laid last, m²K/W; the first stands for none. */
  readonly contacts_m2K_per_W: Float64Array;
  /** Factors on the air's conduction by part, as they were laid last. */
  readonly gapFactors: Float64Array;
  /** Change of each part's conductivity per kelvin, 1/K; null where none follows its temperature. */
  readonly bends: Float64Array | null;
  /** Parts whose resistivity follows temperature, marked. */
  private readonly moving: Uint8Array;
  /** For which the parts' own resistivities stand in the cells. */
  private laidFor: DeviceState['factors'] | undefined;

  /** @param after of a device that is done with: its arrays are taken over where the cells are as many */
  constructor(model: LaidModel, after?: DeviceNetworks) {
    this.model = model;
    const { parts, contacts } = model.laid;
    const { dx_m: dx, dy_m: dy, dz_m: dz } = measureCells(model.grid);
    this.shapes = { dx, dy, dz };
    this.faces = layFaces(model, this.shapes);
    const { length } = model.partOf;
    const taken = after?.rx.length === length ? after : undefined;
    this.rx = taken?.rx ?? new Float64Array(length);
    this.rz = taken?.rz ?? new Float64Array(length);
    this.contacts_m2K_per_W = new Float64Array(contacts.length + 1);
    this.gapFactors = new Float64Array(parts.length);
    const slopes = Float64Array.from(parts, ({ kSlope_per_K }) => kSlope_per_K);
    this.bends = slopes.some((slope) => slope !== 0) ? slopes : null;
    this.moving = Uint8Array.from(parts, ({ role, kSlope_per_K }) =>
      role === 'air' || kSlope_per_K !== 0 ? 1 : 0,
    );
  }

  /**
   * The network about a field: gaps, films and what follows temperature at that field's temperatures.
   *
   * @param rise_K over the room, of each cell
   * @param into one that is no longer needed: its arrays are written over where the cells are as many
   */
  make(state: DeviceState, rise_K: Float64Array, into?: DeviceNetwork): DeviceNetwork {
    const { rx, rz, shapes, contacts_m2K_per_W } = this;
    const { nx, ny, nz, contactOf } = this.model;
    this.layResistivities(state, rise_K);
    const room = into?.source_W.length === rx.length ? into : undefined;
    const arrayFor = (taken: Float64Array | undefined) => taken ?? new Float64Array(rx.length);
    const network: HeatNetwork = {
      nx,
      ny,
      nz,
      east_W_per_K: arrayFor(room?.network.east_W_per_K),
      north_W_per_K: arrayFor(room?.network.north_W_per_K),
      up_W_per_K: arrayFor(room?.network.up_W_per_K),
      sink_W_per_K: arrayFor(room?.network.sink_W_per_K),
      lines: {
        dx_m: shapes.dx,
        dy_m: shapes.dy,
        seamsX: findSeams(rx, nx, ny, nz, true),
        seamsY: findSeams(rx, nx, ny, nz, false),
      },
    };
    const { east_W_per_K, north_W_per_K, up_W_per_K } = network;
    fillConductances(rx, rz, shapes, contactOf, contacts_m2K_per_W, east_W_per_K, north_W_per_K, up_W_per_K);
    const source_W = arrayFor(room?.source_W);
    return { network, source_W, films: this.exchange(state, rise_K, network.sink_W_per_K, source_W) };
  }

  /** Brings what a network takes in and loses up to another field, in place; its conductances stay, see `addChanges`. */
  update({ network, source_W }: DeviceNetwork, state: DeviceState, rise_K: Float64Array): void {
    this.layResistivities(state, rise_K);
    this.exchange(state, rise_K, network.sink_W_per_K, source_W);
  }

  /**
   * Adds what the conductances of a network are behind by since it was made: with it they carry what they would at the field it was last
   * brought up to.
   *
   * @param into receives the heat of each cell, W, added to what is there
   */
  addChanges({ network }: DeviceNetwork, rise_K: Float64Array, into: Float64Array): void {
    const { rx, rz, shapes, moving, contacts_m2K_per_W: R } = this;
    const { east_W_per_K: E, north_W_per_K: N, up_W_per_K: U } = network;
    const { partOf, contactOf } = this.model;
    addChanges(partOf, moving, rx, rz, shapes, contactOf, R, E, N, U, rise_K, into);
  }

  /** What one further kelvin loses at the outer faces, cell by cell, W/K, with the resistivities as they were laid last. */
  tangentSinks(
    films: DeviceNetwork['films'],
    into: Float64Array = new Float64Array(this.rx.length),
  ): Float64Array {
    into.fill(0);
    for (const face of this.faces)
      addFilm(face, this.across(face), films[face.face].slope_W_per_m2K, 0, into, null);
    return into;
  }

  /** Resistivities across a face. */
  across({ isLevel }: FaceLayout): Float64Array {
    return isLevel ? this.rz : this.rx;
  }

  private layResistivities(state: DeviceState, rise_K: Float64Array): void {
    const { bends, rx, rz, gapFactors } = this;
    const { partOf, gaps } = this.model;
    const { parts, contacts } = this.model.laid;
    if (bends !== null || this.laidFor !== state.factors) {
      this.laidFor = state.factors;
      const along = Float64Array.from(
        parts,
        ({ kInPlane_W_per_mK, scaledBy }) => 1 / (kInPlane_W_per_mK * factorOf(state, scaledBy.inPlane?.id)),
      );
      const through = Float64Array.from(
        parts,
        ({ kThrough_W_per_mK, scaledBy }) => 1 / (kThrough_W_per_mK * factorOf(state, scaledBy.through?.id)),
      );
      fillParts(partOf, along, through, rx, rz);
      parts.forEach(({ scaledBy }, part) => {
        gapFactors[part] = factorOf(state, scaledBy.through?.id);
      });
      contacts.forEach(({ resistance_m2K_per_W, scaledBy }, index) => {
        this.contacts_m2K_per_W[index + 1] = resistance_m2K_per_W / factorOf(state, scaledBy.id);
      });
    }
    if (bends !== null) bendParts(partOf, bends, rise_K, state.ambient_C, rx, rz);
    const { first, last, thickness_m, emissivity, part } = gaps;
    const ambient_K = kelvinFromCelsius(state.ambient_C);
    fillGaps(rise_K, ambient_K, first, last, thickness_m, emissivity, part, gapFactors, rx, rz);
  }

  /** Fills in what each cell loses to what the outer faces meet and what is put into it, with the resistivities as they were laid last. */
  private exchange(
    state: DeviceState,
    rise_K: Float64Array,
    sink_W_per_K: Float64Array,
    source_W: Float64Array,
  ): DeviceNetwork['films'] {
    source_W.fill(0);
    for (const { id, cells, shares } of this.model.heat) {
      const power_W = state.power_W.get(id) ?? 0;
      if (power_W === 0) continue;
      cells.forEach((cell, index) => {
        source_W[cell] = (source_W[cell] as number) + power_W * (shares[index] as number);
      });
    }
    sink_W_per_K.fill(0);
    const films = this.faces.map((face): [FaceName, Film] => {
      const film = filmAt(face, meanOfFace(face, rise_K), state.ambient_C, factorOf(state, face.unknown.id));
      addFilm(face, this.across(face), film.h_W_per_m2K, film.drivenBy_K, sink_W_per_K, source_W);
      return [face.face, film];
    });
    return Object.fromEntries(films) as Record<FaceName, Film>;
  }
}

/** Factor of an unknown; 1 for what is taken as it is. */
export function factorOf(state: DeviceState, id: string | undefined): number {
  return id === undefined ? 1 : (state.factors.get(id) ?? 1);
}
