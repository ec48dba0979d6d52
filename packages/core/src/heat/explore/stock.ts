/** What a sheet is used as in a set-up. */
export type StockRole = 'film' | 'plate' | 'spreader' | 'tape' | 'strip' | 'pad';

/** A material at hand, and how thick its sheets are. */
export interface Stock {
  /** A row of the table of materials. */
  readonly material: string;
  readonly thicknesses_mm: readonly number[];
  /** For a square metre, in whatever money the person counts in; without it no price is told. */
  readonly price_per_m2?: number;
}

const roles: Readonly<Record<StockRole, readonly string[]>> = {
  film: ['polyimide', 'pet-film'],
  plate: ['aluminium', 'aluminium-1050', 'aluminium-5052', 'copper', 'stainless-steel', 'mild-steel'],
  spreader: ['graphite'],
  tape: ['acrylic-tape'],
  strip: ['paper', 'pressboard', 'abs', 'polycarbonate'],
  pad: ['foam', 'silicone', 'gap-pad', 'aerogel-blanket', 'cork'],
};

/** Materials that a set-up can be thought of with. */
export const stockMaterials: readonly string[] = Object.values(roles).flat();

export function roleOf(material: string): StockRole | undefined {
  return (Object.keys(roles) as StockRole[]).find((role) => roles[role].includes(material));
}

/**
 * What shops and makers' benches mostly have.
 *
 * @assumed common practice, no source: sheet and film in their usual thicknesses, tape with its film, board for strips
 */
export const usualStock: readonly Stock[] = [
  { material: 'polyimide', thicknesses_mm: [0.06, 0.12] },
  { material: 'aluminium', thicknesses_mm: [0.2, 0.3, 0.5, 0.8, 1] },
  { material: 'copper', thicknesses_mm: [0.1, 0.2, 0.3, 0.5] },
  { material: 'graphite', thicknesses_mm: [0.025, 0.07, 0.1] },
  { material: 'acrylic-tape', thicknesses_mm: [0.04, 0.1] },
  { material: 'paper', thicknesses_mm: [0.25, 0.5, 0.75] },
  { material: 'foam', thicknesses_mm: [0.5, 1] },
];
