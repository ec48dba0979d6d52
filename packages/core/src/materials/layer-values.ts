import { found, metreFromMillimetre, OutOfRangeError, type Result, refused } from '../measure/index.js';
import type { Material } from './material.js';
import { type Property, property } from './property.js';

/** A sheet's thickness lies outside what is published, so nothing is known of it. */
export interface ThicknessNotListed {
  readonly kind: 'thickness-not-listed';
  readonly listed_mm: readonly [number, number];
}

/**
 * How well a layer carries heat along itself, where that depends on its thickness.
 *
 * Between two published thicknesses value and range run straight in the logarithms of both. Two thin sheets laid together stay two
 * thin sheets: give the thickness of one.
 *
 * @param thickness_mm of the material alone, without its films; above 0
 * @throws OutOfRangeError for a thickness that is not above 0
 */
export function conductivityInPlane(
  material: Pick<Material, 'kInPlane_W_per_mK' | 'kInPlaneByThickness'>,
  thickness_mm: number,
): Result<Property, ThicknessNotListed> {
  checkThickness(thickness_mm);
  const rows = material.kInPlaneByThickness;
  if (rows === undefined) return found(material.kInPlane_W_per_mK);
  const upper = rows.findIndex((row) => row.thickness_mm >= thickness_mm);
  const above = rows[upper];
  const below = rows[above?.thickness_mm === thickness_mm ? upper : upper - 1];
  if (above === undefined || below === undefined) {
    const ends = [rows[0]?.thickness_mm ?? 0, rows.at(-1)?.thickness_mm ?? 0] as const;
    return refused({ kind: 'thickness-not-listed', listed_mm: ends });
  }
  if (above === below) return found(above.k_W_per_mK);
  const part =
    Math.log(thickness_mm / below.thickness_mm) / Math.log(above.thickness_mm / below.thickness_mm);
  const between = (from: number, to: number) => from * (to / from) ** part;
  const [low, high] = [below.k_W_per_mK, above.k_W_per_mK];
  return found(
    property(
      between(low.value, high.value),
      [between(low.range[0], high.range[0]), between(low.range[1], high.range[1])],
      low.source,
      low.status,
    ),
  );
}

/**
 * Mass of a layer per area: what a shield adds to the weight of the device.
 *
 * @param thickness_mm above 0
 * @throws OutOfRangeError for a thickness that is not above 0
 * @source derived: density times thickness
 */
export function arealMass_kg_per_m2(
  material: Pick<Material, 'density_kg_per_m3'>,
  thickness_mm: number,
): number {
  checkThickness(thickness_mm);
  return material.density_kg_per_m3.value * metreFromMillimetre(thickness_mm);
}

function checkThickness(thickness_mm: number): void {
  if (!(thickness_mm > 0 && thickness_mm <= 100)) {
    throw new OutOfRangeError('thickness_mm', thickness_mm, [0, 100], 'Is it in millimetres, and above 0?');
  }
}
