/** Materials: what layers are made of. Every figure has a range, a spread, a source and a word on how it was seen. */

export { type Contact, contacts, findContact } from './contacts.js'; // how layers meet
export {
  findMaterial,
  materialOfLayer,
  materials,
  materialsOf,
  type NoMaterial,
} from './find-material.js'; // word or id -> row
export { arealMass_kg_per_m2, conductivityInPlane, type ThicknessNotListed } from './layer-values.js'; // row, thickness -> figures
export type { Face, Finish, LayerWord, Material } from './material.js';
export {
  checkAgainstRange,
  type Property,
  property,
  type RangeCheck,
  type SourceStatus,
  spreadOfRange,
} from './property.js'; // a person's figure -> in the range, or how far out
