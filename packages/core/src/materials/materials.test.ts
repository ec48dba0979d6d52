import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { contacts, findContact } from './contacts.js';
import { findMaterial, materialOfLayer, materials, materialsOf } from './find-material.js';
import { arealMass_kg_per_m2, conductivityInPlane } from './layer-values.js';
import type { Material } from './material.js';
import { checkAgainstRange, type Property, property, spreadOfRange } from './property.js';

function propertiesOf(material: Material): readonly Property[] {
  return [
    material.kInPlane_W_per_mK,
    material.kThrough_W_per_mK,
    ...(material.kInPlaneByThickness ?? []).map((row) => row.k_W_per_mK),
    material.density_kg_per_m3,
    material.specificHeat_J_per_kgK,
    ...material.faces.map((face) => face.emissivity),
  ];
}

describe('every row', () => {
  test.each(materials.map((material) => [material.id, material] as const))('%s is whole', (id, material) => {
    expect(id).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(findMaterial(id)).toBe(material);
    for (const { value, range, spread, source, status } of propertiesOf(material)) {
      expect(range[0]).toBeGreaterThan(0);
      expect(value).toBeGreaterThanOrEqual(range[0]);
      expect(value).toBeLessThanOrEqual(range[1]);
      expect(spread).toBeGreaterThan(0);
      expect(source).toMatch(/^\[[A-Z0-9-]+\]$|^common practice, no source$|^from memory$/);
      // What has no source may not claim to have been read in one.
      if (!source.startsWith('[')) expect(['from memory', 'assumed']).toContain(status);
    }
    for (const { emissivity } of material.faces) expect(emissivity.range[1]).toBeLessThanOrEqual(1);
  });

  test('ids are used once', () => {
    expect(new Set(materials.map(({ id }) => id)).size).toBe(materials.length);
    expect(new Set(contacts.map(({ id }) => id)).size).toBe(contacts.length);
  });

  // [CRC-HANDBOOK] molar heat of solids near 3 R (Dulong and Petit) bounds heat per volume: no dense solid or plastic of ours may store
  // less than a foam or more than water, 4.18 MJ/(m³ K). It catches a density in g/cm³ and a heat in kJ.
  test('no row stores more heat per volume than water', () => {
    for (const { density_kg_per_m3, specificHeat_J_per_kgK } of materials) {
      const volumetric = density_kg_per_m3.value * specificHeat_J_per_kgK.value;
      expect(volumetric).toBeLessThan(4.18e6);
      expect(volumetric).toBeGreaterThan(1e3);
    }
  });

  // Wiedemann and Franz, k = L T / rho with L = 2.44e-8 W ohm/K²: aluminium 5052 of 35 % IACS (100 % is 58.0 MS/m), copper of 100 %.
  // The electrons carry all but a few per cent of the heat in copper; alloys carry up to a tenth more by other means.
  test.each([
    { id: 'aluminium-5052', iacs: 0.35 },
    { id: 'aluminium-1050', iacs: 0.61 },
    { id: 'copper', iacs: 1 },
  ])('$id carries heat as its electrical conductivity says', ({ id, iacs }) => {
    const predicted = 2.44e-8 * 293.15 * 58e6 * iacs;
    const k = findMaterial(id)?.kInPlane_W_per_mK.value ?? Number.NaN;
    expect(Math.abs(k / predicted - 1)).toBeLessThan(0.15);
  });
});

describe('spread of a range', () => {
  // [JCGM-100] 4.3.7: half-width over root 3, here 0.5 ln 4 / sqrt 3 in the logarithm.
  test('is that of a rectangle where the figure lies in its middle', () => {
    expect(spreadOfRange(2, [1, 4])).toBeCloseTo(Math.log(4) / 2 / Math.sqrt(3), 14);
  });

  // Direct average of ln(x / value)² over 100 000 places of the range, good to 1e-9.
  test('is the root mean square about the figure where it does not', () => {
    const [value, low, high] = [0.12, 0.1, 0.36];
    let sum = 0;
    const places = 100_000;
    for (let i = 0; i < places; i++)
      sum += Math.log((low * (high / low) ** ((i + 0.5) / places)) / value) ** 2;
    expect(spreadOfRange(value, [low, high])).toBeCloseTo(Math.sqrt(sum / places), 8);
  });
});

describe('a person’s figure against the published range', () => {
  const k = property(222, [209, 230], 'from memory', 'from memory');

  test.each([
    { value: 222, side: 'inside', factor: 1, needsConfirmation: false },
    { value: 209, side: 'inside', factor: 1, needsConfirmation: false },
    { value: 460, side: 'above', factor: 2, needsConfirmation: false },
    { value: 69, side: 'below', factor: 209 / 69, needsConfirmation: true },
    { value: 0.222, side: 'below', factor: 209 / 0.222, needsConfirmation: true },
    { value: 222_000, side: 'above', factor: 222_000 / 230, needsConfirmation: true },
  ])('$value is $side', ({ value, side, factor, needsConfirmation }) => {
    const check = checkAgainstRange(k, value);
    expect(check).toEqual({
      inside: side === 'inside',
      side,
      factor: expect.closeTo(factor, 9),
      needsConfirmation,
    });
  });

  test.each([0, -5, Number.NaN])('%d is no property of matter', (value) => {
    expect(checkAgainstRange(k, value)).toMatchObject({ inside: false, needsConfirmation: true });
  });
});

describe('the row for a layer', () => {
  test('every word of a build but `other` has one', () => {
    for (const material of ['polyimide', 'aluminium', 'copper', 'graphite', 'foam', 'tape', 'paper', 'air']) {
      expect(materialOfLayer({ material })).toMatchObject({ ok: true, value: { layer: material } });
    }
  });

  test('`other` is asked about, not guessed', () => {
    expect(materialOfLayer({ material: 'other' })).toEqual({ ok: false, reason: { kind: 'not-stated' } });
    expect(materialOfLayer({ material: 'other', grade: 'cork' })).toMatchObject({ ok: true });
  });

  test('a grade under another word is refused', () => {
    expect(materialOfLayer({ material: 'paper', grade: 'mild-steel' })).toEqual({
      ok: false,
      reason: { kind: 'another-layer', id: 'mild-steel', layer: 'other' },
    });
    expect(materialOfLayer({ material: 'aluminium', grade: 'aluminium-9999' })).toMatchObject({ ok: false });
    expect(materialOfLayer({ material: 'constructor' })).toMatchObject({ ok: false });
  });

  test('an alloy that is not known spans those that are', () => {
    const span = findMaterial('aluminium')?.kInPlane_W_per_mK.range ?? [0, 0];
    for (const { kInPlane_W_per_mK } of materialsOf('aluminium')) {
      expect(kInPlane_W_per_mK.range[0]).toBeGreaterThanOrEqual(span[0]);
      expect(kInPlane_W_per_mK.range[1]).toBeLessThanOrEqual(span[1]);
    }
  });
});

describe('graphite by thickness', () => {
  const graphite = findMaterial('graphite') as Material;

  // [GRAPHITE-SHEETS] the makers' own figures.
  test.each([
    { thickness_mm: 0.01, k: 1950 },
    { thickness_mm: 0.025, k: 1600 },
    { thickness_mm: 0.07, k: 850 },
    { thickness_mm: 0.1, k: 700 },
  ])('$thickness_mm mm carries $k W/(m K)', ({ thickness_mm, k }) => {
    expect(conductivityInPlane(graphite, thickness_mm)).toMatchObject({ ok: true, value: { value: k } });
  });

  test('between published thicknesses it falls steadily and stays between them', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.099, noNaN: true }), (thickness_mm) => {
        const here = conductivityInPlane(graphite, thickness_mm);
        const next = conductivityInPlane(graphite, thickness_mm + 0.001);
        expect(here.ok && next.ok && here.value.value > next.value.value).toBe(true);
        expect(here.ok && here.value.value <= 1950 && here.value.value >= 700).toBe(true);
      }),
    );
  });

  test.each([0.005, 0.2])('of %d mm nothing is published', (thickness_mm) => {
    expect(conductivityInPlane(graphite, thickness_mm)).toEqual({
      ok: false,
      reason: { kind: 'thickness-not-listed', listed_mm: [0.01, 0.1] },
    });
  });

  test('other materials are as good in any thickness', () => {
    const copper = findMaterial('copper') as Material;
    expect(conductivityInPlane(copper, 3)).toEqual({ ok: true, value: copper.kInPlane_W_per_mK });
    expect(() => conductivityInPlane(copper, 0)).toThrow(/thickness_mm/);
  });
});

test('mass of a plate: 90 mm by 60 mm by 0.5 mm of aluminium 1050 weigh 7.3 g', () => {
  const perArea = arealMass_kg_per_m2(findMaterial('aluminium-1050') as Material, 0.5);
  expect(perArea * 0.09 * 0.06 * 1000).toBeCloseTo(2.705 * 9 * 6 * 0.05, 10);
});

test('a glued joint is the published one', () => {
  // [INCROPERA] chip on a plate: 0.02 mm of epoxy, 0.9e-4 m² K/W.
  expect(findContact('glued')?.resistance_m2K_per_W.value).toBe(0.9e-4);
});
