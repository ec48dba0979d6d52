import { type FaceFilms, type FaceName, faceSinks_W_per_K } from '../solve/faces.js';
import type { CellConductivity } from '../solve/grid.js';
import { assembleNetwork, type HeatNetwork } from '../solve/network.js';
import { carryAcrossGaps } from './carry-across-gaps.js';
import type { DeviceModel } from './device-model.js';
import { eachFaceCell, meanSurfaceRise_K } from './face-cells.js';
import { bendParts, fillParts } from './fill-network.kernel.js';
import { type Film, filmAt, findOuterFaces, type OuterFace } from './outer-faces.js';

/** What a device is solved for: how it differs from the records, what heats it, and where it is. */
export interface DeviceState {
  /** Factors by the ids of unknowns; 1 where none is given. */
  readonly factors: ReadonlyMap<string, number>;
  /** Heat by source: a zone's id, `board`, `cell-1` and so on, W. */
  readonly power_W: ReadonlyMap<string, number>;
  readonly ambient_C: number;
}

/** The network of a device about one field. */
export interface DeviceNetwork {
  readonly network: HeatNetwork;
  /** Heat put into each cell, W, with what warm hands put in. */
  readonly source_W: Float64Array;
  readonly films: Readonly<Record<FaceName, Film>>;
}

const faceOrder: readonly FaceName[] = ['front', 'back', 'west', 'east', 'south', 'north'];

/**
 * Makes the networks of one device again and again, as its temperatures and unknowns change, in buffers of its own.
 *
 * Fields of a network it made before stay valid; the conductivities behind them do not.
 */
export class DeviceNetworks {
  readonly model: DeviceModel;
  /** Conductivities along and through, as the last network has them, W/mK. */
  readonly kx: Float64Array;
  readonly kz: Float64Array;
  /** Resistance of each contact as the last network has it, m²K/W; the first stands for none. */
  readonly resistances: Float64Array;
  readonly outer: readonly OuterFace[];
  /** Change of each part's conductivity per kelvin; null where none follows its temperature. */
  readonly bends: Float64Array | null;
  private readonly up: Float64Array | undefined;

  constructor(model: DeviceModel) {
    this.model = model;
    const cells = model.partOf.length;
    this.kx = new Float64Array(cells);
    this.kz = new Float64Array(cells);
    this.up = model.laid.contacts.length > 0 ? new Float64Array(cells) : undefined;
    this.resistances = new Float64Array(model.laid.contacts.length + 1);
    this.bends = bendsOf(model.laid);
    const shell = model.laid.parts.find(({ role }) => role === 'shell');
    this.outer = findOuterFaces(model.laid, model.surroundings, shell?.emissivity ?? 0.9);
  }

  /**
   * The network about a field: gaps and films at that field's temperatures.
   *
   * @param rise_K over the room, of each cell
   * @param into a network of this device that is no longer needed: its arrays are written over
   */
  make(state: DeviceState, rise_K: Float64Array, into?: HeatNetwork): DeviceNetwork {
    const { model, up } = this;
    const conductivity = this.fillConductivity(state, rise_K);
    if (up !== undefined) {
      model.laid.contacts.forEach(({ resistance_m2K_per_W, scaledBy }, index) => {
        this.resistances[index + 1] = resistance_m2K_per_W / factorOf(state, scaledBy.id);
      });
      for (let cell = 0; cell < up.length; cell++)
        up[cell] = this.resistances[model.contactOf[cell] as number] as number;
    }
    const films = Object.fromEntries(
      this.outer.map((outer) => [
        outer.face,
        filmAt(
          outer,
          meanSurfaceRise_K(model, outer.face, rise_K),
          state.ambient_C,
          factorOf(state, outer.unknown.id),
        ),
      ]),
    ) as Record<FaceName, Film>;
    const used = Object.fromEntries(faceOrder.map((face) => [face, films[face].h_W_per_m2K])) as Record<
      FaceName,
      number
    > satisfies FaceFilms;
    const network = assembleNetwork(model.grid, conductivity, used, {
      ...(up && { contact: { up } }),
      ...(into && { into }),
    });
    return { network, source_W: this.fillSource(state, conductivity, films), films };
  }

  private fillConductivity(state: DeviceState, rise_K: Float64Array): CellConductivity {
    const { model, kx, kz } = this;
    const { parts } = model.laid;
    const along = Float64Array.from(
      parts,
      ({ kInPlane_W_per_mK, scaledBy }) => kInPlane_W_per_mK * factorOf(state, scaledBy.inPlane?.id),
    );
    const through = Float64Array.from(
      parts,
      ({ kThrough_W_per_mK, scaledBy }) => kThrough_W_per_mK * factorOf(state, scaledBy.through?.id),
    );
    const gapFactors = Float64Array.from(parts, ({ scaledBy }) => factorOf(state, scaledBy.through?.id));
    fillParts(model.partOf, along, through, kx, kz);
    if (this.bends !== null) bendParts(model.partOf, this.bends, rise_K, state.ambient_C, kx, kz);
    carryAcrossGaps(model.gaps, state.ambient_C, rise_K, gapFactors, kx, kz);
    return { kx, ky: kx, kz };
  }

  private fillSource(
    state: DeviceState,
    conductivity: CellConductivity,
    films: Readonly<Record<FaceName, Film>>,
  ): Float64Array {
    const { model } = this;
    const source_W = new Float64Array(model.partOf.length);
    for (const { id, cells, shares } of model.heat) {
      const power_W = state.power_W.get(id) ?? 0;
      if (power_W === 0) continue;
      cells.forEach((cell, index) => {
        source_W[cell] = (source_W[cell] as number) + power_W * (shares[index] as number);
      });
    }
    for (const face of faceOrder) {
      const { drivenBy_K, h_W_per_m2K } = films[face];
      if (drivenBy_K === 0) continue;
      const sinks = faceSinks_W_per_K(model.grid, conductivity, face, h_W_per_m2K);
      eachFaceCell(model, face, (cell, index) => {
        source_W[cell] = (source_W[cell] as number) + (sinks[index] as number) * drivenBy_K;
      });
    }
    return source_W;
  }
}

/** Change of each part's conductivity per kelvin, 1/K; null where none follows its temperature. */
export function bendsOf({ parts }: Pick<DeviceModel['laid'], 'parts'>): Float64Array | null {
  const slopes = Float64Array.from(parts, ({ kSlope_per_K }) => kSlope_per_K);
  return slopes.some((slope) => slope !== 0) ? slopes : null;
}

/** Factor of an unknown; 1 for what is taken as it is. */
export function factorOf(state: DeviceState, id: string | undefined): number {
  return id === undefined ? 1 : (state.factors.get(id) ?? 1);
}
