import type { Property, SourceStatus } from './property.js';

/** What a layer can be called in a build. A material says under which of these words it comes. */
export type LayerWord =
  | 'polyimide'
  | 'aluminium'
  | 'copper'
  | 'graphite'
  | 'foam'
  | 'tape'
  | 'paper'
  | 'air'
  | 'other';

/** How a face is finished, for the heat that it radiates. */
export type Finish = 'bare' | 'oxidised' | 'anodised' | 'painted';

export interface Face {
  readonly finish: Finish;
  /** Total, hemispherical, near room temperature. */
  readonly emissivity: Property;
}

/** One row of the table. Everything the heat stage needs to know of a layer besides its thickness and outline. */
export interface Material {
  /** Kebab-case; the key by which builds and priors name it, so it never changes. */
  readonly id: string;
  readonly name: string;
  readonly layer: LayerWord;
  readonly kInPlane_W_per_mK: Property;
  readonly kThrough_W_per_mK: Property;
  /** Where conductivity along the sheet depends on its thickness: rows, thinnest first. It replaces `kInPlane_W_per_mK`. */
  readonly kInPlaneByThickness?: readonly { readonly thickness_mm: number; readonly k_W_per_mK: Property }[];
  /** Change of both per kelvin, as a share of what they are at 25 °C; absent where it is not known or does not matter. */
  readonly kSlope_per_K?: { readonly value: number; readonly source: string; readonly status: SourceStatus };
  readonly density_kg_per_m3: Property;
  readonly specificHeat_J_per_kgK: Property;
  /** The first is what an untreated sheet has; none where the material has no face of its own. */
  readonly faces: readonly Face[];
  /** What would mislead whoever uses the row. */
  readonly caution?: string;
}
