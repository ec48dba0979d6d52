import type { Property } from '../../materials/index.js';

/**
 * Something of the device that no record states well enough: a factor on a conductivity, a film, a contact or a power.
 * Its logarithm is zero where the record or the table is right, and `spread` is the standard deviation of that logarithm.
 */
export interface Unknown {
  readonly id: string;
  readonly name: string;
  readonly spread: number;
  /** True where the logarithm is added to the nominal figure, in its unit, instead of scaling it: for what may be of either sign. */
  readonly adds?: true;
  /** Where value and spread come from: a key of docs/sources.md, or one of the plain markers. */
  readonly source: string;
  /** The figure that a factor of 1 stands for, with its unit, where there is one figure. */
  readonly nominal: { readonly value: number; readonly unit: string } | null;
}

/** A material's conductivity as the table has it, not known better than its range. */
export function unknownOf(id: string, name: string, { value, spread, source }: Property): Unknown {
  return { id, name, spread, source, nominal: { value, unit: 'W/mK' } };
}

const assumed = 'common practice, no source';

/** What lies in the front gap is not recorded: keys, a display, cables. @assumed within a factor of two as often as not */
export const frontGap: Unknown = {
  id: 'front-gap',
  name: 'what fills the front gap, against still air',
  spread: 0.7,
  source: assumed,
  nominal: { value: 1, unit: '× air' },
};

/** Parts, wires and screws cross the air between board and set-up. @assumed a third either way */
export const bay: Unknown = {
  id: 'bay',
  name: 'what crosses the air around zones and set-up, against still air',
  spread: 0.4,
  source: assumed,
  nominal: { value: 1, unit: '× air' },
};

/** The room behind the pack is as even as the pack: a bulge or a fold touches the shell. @assumed a third either way */
export const reserve: Unknown = {
  id: 'reserve',
  name: 'the room behind the pack, against still air',
  spread: 0.4,
  source: assumed,
  nominal: { value: 1, unit: '× air' },
};

/** Dry contact between zone tops and set-up. @assumed its range is a factor of ten wide, as that of any dry contact */
export const seat: Unknown = {
  id: 'seat',
  name: 'how well zones and set-up touch',
  spread: 0.8,
  source: assumed,
  nominal: null,
};

/** Inside a component: its frame, its mould. @assumed a factor of two either way */
export const insideZones: Unknown = {
  id: 'zones',
  name: 'how well zones carry heat to their tops',
  spread: 0.5,
  source: assumed,
  nominal: null,
};

/** What lies between two cells. @assumed a factor of two either way */
export const seam: Unknown = {
  id: 'seam',
  name: 'the seam between cells',
  spread: 0.6,
  source: assumed,
  nominal: null,
};

/** Film coefficients from correlations are good to some 15 to 25 %. @source [INCROPERA] as the usual word on correlations, from memory */
export const films: Readonly<Record<'front' | 'back' | 'sides', Unknown>> = {
  front: filmUnknown('front', 'front face'),
  back: filmUnknown('back', 'back face'),
  sides: filmUnknown('sides', 'sides'),
};

function filmUnknown(id: string, words: string): Unknown {
  return {
    id: `film-${id}`,
    name: `how well the ${words} gives off heat`,
    spread: 0.25,
    source: '[INCROPERA]',
    nominal: null,
  };
}
