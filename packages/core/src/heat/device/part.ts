import type { Unknown } from './unknown.js';

/** Span along one axis, mm from the device's lower left corner or from the outer face of its front shell. */
export type Span = readonly [from_mm: number, to_mm: number];

/** What a region of the device is, for the model and for words. */
export type PartRole = 'air' | 'shell' | 'board' | 'zone' | 'layer' | 'cell' | 'joint';

/** A box of one material. Where boxes overlap, the later one is there. */
export interface Part {
  readonly role: PartRole;
  readonly name: string;
  readonly x: Span;
  readonly y: Span;
  readonly z: Span;
  /** Along the sheet and through it; of air, what still air conducts is put in later, gap by gap. */
  readonly kInPlane_W_per_mK: number;
  readonly kThrough_W_per_mK: number;
  /** Change of both per kelvin, as a share of what they are at 25 °C. */
  readonly kSlope_per_K: number;
  readonly heatCapacity_J_per_m3K: number;
  /** Of its faces, for the radiation across a gap. */
  readonly emissivity: number;
  /** Unknowns that scale its conductivities; null where they are taken as they are. */
  readonly scaledBy: { readonly inPlane: Unknown | null; readonly through: Unknown | null };
  /** The source of heat it holds: a zone's id, `board`, or `cell-1` and so on. */
  readonly heat: string | null;
}

/** Two parts pressed together without a bond: a resistance at one depth, over one outline. */
export interface Contact {
  readonly name: string;
  readonly x: Span;
  readonly y: Span;
  readonly z_mm: number;
  readonly resistance_m2K_per_W: number;
  readonly scaledBy: Unknown;
}

/** A set-up in its device, ready to be laid on a grid. */
export interface LaidParts {
  readonly length_mm: number;
  readonly width_mm: number;
  readonly thickness_mm: number;
  readonly parts: readonly Part[];
  readonly contacts: readonly Contact[];
  /** Depths that words and probes need, mm from the outer face of the front shell. */
  readonly depths: {
    readonly board: number;
    readonly boardBack: number;
    readonly layers: number;
    readonly pack: number;
    readonly packBack: number;
    readonly backShell: number;
  };
  /** One span along the device for each cell in series. */
  readonly cells: readonly Span[];
  /** What had to be taken for granted, in words. */
  readonly notes: readonly string[];
}
