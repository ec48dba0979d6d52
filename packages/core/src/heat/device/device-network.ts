import { kelvinFromCelsius } from '../../measure/index.js';
import {
  assembleNetwork,
  type CellConductivity,
  type FaceFilms,
  type FaceName,
  faceSinks_W_per_K,
  type HeatNetwork,
} from '../solve/network.js';
import type { DeviceModel } from './device-model.js';
import { centreOf } from './fill-cells.js';
import { fillGaps, fillParts, pullOfGaps } from './fill-network.kernel.js';
import { type Film, filmAt, findOuterFaces, type OuterFace } from './outer-faces.js';
import { sumSlopes } from './slopes.kernel.js';

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
  private readonly kx: Float64Array;
  private readonly kz: Float64Array;
  private readonly up: Float64Array | undefined;
  /** Resistance of each contact as the last network has it, m²K/W; the first stands for none. */
  private readonly resistances: Float64Array;
  private readonly isAir: Uint8Array;
  private readonly sizes: { readonly dx: Float64Array; readonly dy: Float64Array; readonly dz: Float64Array };
  private readonly outer: readonly OuterFace[];

  constructor(model: DeviceModel) {
    this.model = model;
    const cells = model.partOf.length;
    this.kx = new Float64Array(cells);
    this.kz = new Float64Array(cells);
    this.up = model.laid.contacts.length > 0 ? new Float64Array(cells) : undefined;
    this.resistances = new Float64Array(model.laid.contacts.length + 1);
    this.isAir = Uint8Array.from(model.laid.parts, ({ role }) => (role === 'air' ? 1 : 0));
    this.sizes = {
      dx: sizesOf(model.grid.x_m),
      dy: sizesOf(model.grid.y_m),
      dz: sizesOf(model.grid.z_m),
    };
    const shell = model.laid.parts.find(({ role }) => role === 'shell');
    this.outer = findOuterFaces(model.laid, model.surroundings, shell?.emissivity ?? 0.9);
  }

  /**
   * The network about a field: gaps and films at that field's temperatures.
   *
   * @param rise_K over the room, of each cell
   * @param slopes films as what one more kelvin loses, for small changes, instead of what the whole rise loses
   */
  make(state: DeviceState, rise_K: Float64Array, slopes = false): DeviceNetwork {
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
          this.meanSurfaceRise_K(outer.face, rise_K),
          state.ambient_C,
          factorOf(state, outer.unknown.id),
        ),
      ]),
    ) as Record<FaceName, Film>;
    const used = Object.fromEntries(
      faceOrder.map((face) => [face, slopes ? films[face].slope_W_per_m2K : films[face].h_W_per_m2K]),
    ) as Record<FaceName, number> satisfies FaceFilms;
    const network = assembleNetwork(
      model.grid,
      conductivity,
      used,
      up === undefined ? {} : { contact: { up } },
    );
    return { network, source_W: this.fillSource(state, conductivity, films), films };
  }

  /**
   * What the linearised network leaves out of the heat each cell sheds, seen by an adjoint: gaps that pass more when they are warm, and
   * films that follow the mean of a face and not each cell. To be asked for the network that was made last, about the same field.
   *
   * @param pull_W_per_K receives it, one number for each cell
   */
  pullOf(
    state: DeviceState,
    { network, films }: Pick<DeviceNetwork, 'network' | 'films'>,
    adjoint: Float64Array,
    rise_K: Float64Array,
    pull_W_per_K: Float64Array,
  ): void {
    const { gaps, laid } = this.model;
    const { dx, dy, dz } = this.sizes;
    const areas = Float64Array.from(
      { length: dx.length * dy.length },
      (_, column) => (dx[column % dx.length] as number) * (dy[Math.floor(column / dx.length)] as number),
    );
    pullOfGaps(
      adjoint,
      rise_K,
      this.kz,
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
    for (const { face } of this.outer) this.pullOfFilm(face, films[face], adjoint, rise_K, pull_W_per_K);
  }

  /** A film's slope acts through the mean of its face: the network has it act cell by cell, and the difference is put right here. */
  private pullOfFilm(
    face: FaceName,
    { h_W_per_m2K, slope_W_per_m2K }: Film,
    adjoint: Float64Array,
    rise_K: Float64Array,
    pull_W_per_K: Float64Array,
  ): void {
    const conductivity = { kx: this.kx, ky: this.kx, kz: this.kz };
    const sinks = (film: number) => faceSinks_W_per_K(this.model.grid, conductivity, face, film);
    const [held, moved] = [sinks(h_W_per_m2K), sinks(slope_W_per_m2K)];
    const mean_K = this.meanSurfaceRise_K(face, rise_K);
    if (!(mean_K > 0)) return;
    let seen = 0;
    let area_m2 = 0;
    this.eachFaceCell(face, (cell, index, area) => {
      const extra = (moved[index] as number) - (held[index] as number);
      seen += extra * ((rise_K[cell] as number) / mean_K) * (adjoint[cell] as number);
      area_m2 += area;
      pull_W_per_K[cell] = (pull_W_per_K[cell] as number) - extra * (adjoint[cell] as number);
    });
    const { share, step } = this.drawOut(face);
    this.eachFaceCell(face, (cell, _, area) => {
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
  slopesOf(
    { network, films }: Pick<DeviceNetwork, 'network' | 'films'>,
    adjoint: Float64Array,
    rise_K: Float64Array,
  ): Map<string, number> {
    const { model, kx, kz } = this;
    const { parts, contacts } = model.laid;
    const along = new Float64Array(parts.length);
    const through = new Float64Array(parts.length);
    const pressed = new Float64Array(contacts.length + 1);
    const { dx, dy, dz } = this.sizes;
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
      this.isAir,
      model.contactOf,
      this.resistances,
      along,
      through,
      pressed,
    );
    const slopes = new Map<string, number>();
    const add = (id: string | undefined, sum: number) => {
      if (id !== undefined) slopes.set(id, (slopes.get(id) ?? 0) - sum);
    };
    for (const { face, unknown } of this.outer)
      this.addFilmSlopes(face, films[face], adjoint, rise_K, along, through, (sum) => add(unknown.id, sum));
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
  private addFilmSlopes(
    face: FaceName,
    { h_W_per_m2K, drivenBy_K }: Film,
    adjoint: Float64Array,
    rise_K: Float64Array,
    along: Float64Array,
    through: Float64Array,
    addFilm: (sum: number) => void,
  ): void {
    const conductivity = { kx: this.kx, ky: this.kx, kz: this.kz };
    const sinks = faceSinks_W_per_K(this.model.grid, conductivity, face, h_W_per_m2K);
    const isLevel = face === 'front' || face === 'back';
    let film = 0;
    this.eachFaceCell(face, (cell, index, area) => {
      const sink = sinks[index] as number;
      const seen = (adjoint[cell] as number) * ((rise_K[cell] as number) - drivenBy_K);
      const share = sink / (h_W_per_m2K * area);
      film += seen * sink * share;
      const sums = isLevel ? through : along;
      const part = this.model.partOf[cell] as number;
      sums[part] = (sums[part] as number) + seen * sink * (1 - share);
    });
    addFilm(film);
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
    const { first, last, thickness_m, emissivity, part } = model.gaps;
    fillGaps(
      rise_K,
      kelvinFromCelsius(state.ambient_C),
      first,
      last,
      thickness_m,
      emissivity,
      part,
      gapFactors,
      kx,
      kz,
    );
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
      this.eachFaceCell(face, (cell, index) => {
        source_W[cell] = (source_W[cell] as number) + (sinks[index] as number) * drivenBy_K;
      });
    }
    return source_W;
  }

  /** Rise of a face's surface, cell by cell drawn on from the two cells behind it, weighted by area. */
  private meanSurfaceRise_K(face: FaceName, rise_K: Float64Array): number {
    const { share, step } = this.drawOut(face);
    let sum = 0;
    let area = 0;
    this.eachFaceCell(face, (cell, _, cellArea) => {
      const near_K = rise_K[cell] as number;
      sum += cellArea * (near_K + share * ((rise_K[cell + step] as number) - near_K));
      area += cellArea;
    });
    return sum / area;
  }

  /** How a face is drawn on from the cell at it and the one behind, and how far behind that one lies in the arrays. */
  private drawOut(face: FaceName): { readonly share: number; readonly step: number } {
    const { grid, nx, nz } = this.model;
    const [edges, stride] =
      face === 'front' || face === 'back'
        ? ([grid.z_m, 1] as const)
        : face === 'west' || face === 'east'
          ? ([grid.x_m, nz] as const)
          : ([grid.y_m, nx * nz] as const);
    const count = edges.length - 1;
    if (count < 2) return { share: 0, step: 0 };
    const atStart = face === 'front' || face === 'west' || face === 'south';
    const [near, far] = atStart ? [0, 1] : [count - 1, count - 2];
    const edge = edges[atStart ? 0 : count] as number;
    return {
      share: (edge - centreOf(edges, near)) / (centreOf(edges, far) - centreOf(edges, near)),
      step: atStart ? stride : -stride,
    };
  }

  /** Cells at a face in the order of `FaceFilms`, with their areas. */
  private eachFaceCell(face: FaceName, visit: (cell: number, index: number, area_m2: number) => void): void {
    const { grid, nx, ny, nz } = this.model;
    const size = (edges: Float64Array, at: number) => (edges[at + 1] as number) - (edges[at] as number);
    if (face === 'front' || face === 'back') {
      const k = face === 'front' ? 0 : nz - 1;
      for (let j = 0; j < ny; j++)
        for (let i = 0; i < nx; i++)
          visit(k + nz * (i + nx * j), i + nx * j, size(grid.x_m, i) * size(grid.y_m, j));
    } else if (face === 'west' || face === 'east') {
      const i = face === 'west' ? 0 : nx - 1;
      for (let j = 0; j < ny; j++)
        for (let k = 0; k < nz; k++)
          visit(k + nz * (i + nx * j), k + nz * j, size(grid.z_m, k) * size(grid.y_m, j));
    } else {
      const j = face === 'south' ? 0 : ny - 1;
      for (let i = 0; i < nx; i++)
        for (let k = 0; k < nz; k++)
          visit(k + nz * (i + nx * j), k + nz * i, size(grid.z_m, k) * size(grid.x_m, i));
    }
  }
}

function sizesOf(edges_m: Float64Array): Float64Array {
  return Float64Array.from(
    { length: edges_m.length - 1 },
    (_, at) => (edges_m[at + 1] as number) - (edges_m[at] as number),
  );
}

function factorOf(state: DeviceState, id: string | undefined): number {
  return id === undefined ? 1 : (state.factors.get(id) ?? 1);
}
