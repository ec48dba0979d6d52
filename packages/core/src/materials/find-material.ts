import { found, type Result, refused } from '../measure/index.js';
import { deviceParts } from './device-parts.js';
import { films } from './films.js';
import type { LayerWord, Material } from './material.js';
import { metals } from './metals.js';
import { softMaterials } from './soft.js';

/** Every material there is: the plug point. docs/adding-a-material.md tells how to add one. */
export const materials: readonly Material[] = [...metals, ...films, ...softMaterials, ...deviceParts];

const byId: ReadonlyMap<string, Material> = new Map(materials.map((material) => [material.id, material]));

/** What a layer's word stands for where no grade is stated. `other` stands for nothing: its grade must be stated. */
const usual: ReadonlyMap<string, string> = new Map<Exclude<LayerWord, 'other'>, string>([
  ['polyimide', 'polyimide'],
  ['aluminium', 'aluminium'],
  ['copper', 'copper'],
  ['graphite', 'graphite'],
  ['foam', 'foam'],
  ['tape', 'acrylic-tape'],
  ['paper', 'paper'],
  ['air', 'air'],
]);

export function findMaterial(id: string): Material | undefined {
  return byId.get(id);
}

/** Why a layer has no row of the table. */
export type NoMaterial =
  /** `other`, and nobody said what. */
  | { readonly kind: 'not-stated' }
  /** No row has this name. */
  | { readonly kind: 'not-listed'; readonly id: string }
  /** The grade belongs to another word: steel said to be a kind of paper. */
  | { readonly kind: 'another-layer'; readonly id: string; readonly layer: LayerWord };

/**
 * The row of the table for a layer of a build.
 *
 * A word alone stands for a family, so its row is wide: aluminium of unknown alloy spans 130 to 230 W/(m K).
 *
 * @param layer its word in the build, and, where it is known, the id of a row that comes under that word
 */
export function materialOfLayer(layer: {
  readonly material: string;
  readonly grade?: string | undefined;
}): Result<Material, NoMaterial> {
  const id = layer.grade ?? usual.get(layer.material);
  if (id === undefined) {
    return refused(
      layer.material === 'other' ? { kind: 'not-stated' } : { kind: 'not-listed', id: layer.material },
    );
  }
  const material = findMaterial(id);
  if (material === undefined) return refused({ kind: 'not-listed', id });
  if (material.layer !== layer.material) return refused({ kind: 'another-layer', id, layer: material.layer });
  return found(material);
}

/** The rows that come under a word, for a person to choose from. */
export function materialsOf(layer: LayerWord): readonly Material[] {
  return materials.filter((material) => material.layer === layer);
}
