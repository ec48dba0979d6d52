import { plasticFace } from './finishes.js';
import type { Face, Material } from './material.js';
import { property } from './property.js';

const abs_k = property(0.17, [0.14, 0.34], '[PLASTICS-TABLES]', 'second hand');
const polycarbonate_k = property(0.2, [0.19, 0.22], '[ISO-10456]', 'second hand');
const air_k = property(0.027, [0.0266, 0.0273], '[POLING-01]', 'second hand');

/** Solder mask, moulded parts and the wrapping of a pouch cell. @assumed as plastics, somewhat wider: metal shows between them */
const coveredFace: Face = {
  finish: 'bare',
  emissivity: property(0.9, [0.8, 0.95], 'from memory', 'assumed'),
};

/** What a device is made of besides the layers of a shield. */
export const deviceParts: readonly Material[] = [
  {
    id: 'air',
    name: 'air at rest, 40 °C',
    layer: 'air',
    kInPlane_W_per_mK: air_k,
    kThrough_W_per_mK: air_k,
    density_kg_per_m3: property(1.13, [1.1, 1.16], '[POLING-01]', 'second hand'),
    specificHeat_J_per_kgK: property(1007, [1005, 1010], '[POLING-01]', 'second hand'),
    faces: [],
    caution:
      'Heat also crosses a gap as radiation, up to a third of it: that is the gap’s doing, not the air’s.',
  },
  {
    id: 'abs',
    name: 'ABS shell',
    layer: 'other',
    kInPlane_W_per_mK: abs_k,
    kThrough_W_per_mK: abs_k,
    density_kg_per_m3: property(1040, [1020, 1070], '[PLASTICS-TABLES]', 'second hand'),
    specificHeat_J_per_kgK: property(1300, [1200, 1500], '[PLASTICS-TABLES]', 'second hand'),
    faces: [plasticFace],
  },
  {
    id: 'polycarbonate',
    name: 'polycarbonate shell',
    layer: 'other',
    kInPlane_W_per_mK: polycarbonate_k,
    kThrough_W_per_mK: polycarbonate_k,
    density_kg_per_m3: property(1200, [1190, 1220], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(1200, [1170, 1300], '[ISO-10456]', 'second hand'),
    faces: [plasticFace],
  },
  {
    id: 'mica',
    name: 'mica sheet',
    layer: 'other',
    kInPlane_W_per_mK: property(2, [0.5, 4], 'from memory', 'from memory'),
    kThrough_W_per_mK: property(0.55, [0.5, 0.7], '[MICA-SHEETS]', 'second hand'),
    density_kg_per_m3: property(2820, [2600, 2900], '[MICA-SHEETS]', 'second hand'),
    specificHeat_J_per_kgK: property(870, [800, 900], 'from memory', 'from memory'),
    faces: [plasticFace],
  },
  {
    id: 'fr4',
    name: 'FR-4 without copper',
    layer: 'other',
    kInPlane_W_per_mK: property(1.06, [0.8, 1.1], '[SARVAR-90]', 'second hand'),
    kThrough_W_per_mK: property(0.34, [0.29, 0.35], '[SARVAR-90]', 'second hand'),
    density_kg_per_m3: property(1875, [1850, 1900], 'from memory', 'from memory'),
    specificHeat_J_per_kgK: property(1100, [1000, 1200], 'from memory', 'from memory'),
    faces: [plasticFace],
  },
  {
    id: 'board',
    name: 'circuit board with its copper and parts',
    layer: 'other',
    kInPlane_W_per_mK: property(10, [3, 40], 'common practice, no source', 'assumed'),
    kThrough_W_per_mK: property(0.35, [0.29, 1], 'common practice, no source', 'assumed'),
    density_kg_per_m3: property(2200, [1900, 2800], 'common practice, no source', 'assumed'),
    specificHeat_J_per_kgK: property(1000, [800, 1150], 'common practice, no source', 'assumed'),
    faces: [coveredFace],
    caution:
      'Its copper decides: each 35 µm plane, half etched away, adds some 7 W/(m K) to a board of 1 mm. To be fitted to runs, not looked up.',
  },
  {
    id: 'pouch-cell',
    name: 'lithium pouch cell',
    layer: 'other',
    kInPlane_W_per_mK: property(27, [20, 35], '[POUCH-ARXIV]', 'second hand'),
    kThrough_W_per_mK: property(0.5, [0.3, 1], '[DROESE-KOWAL-23]', 'second hand'),
    density_kg_per_m3: property(2180, [2000, 2600], '[POUCH-ARXIV]', 'second hand'),
    specificHeat_J_per_kgK: property(1100, [800, 1300], '[POUCH-ARXIV]', 'second hand'),
    faces: [coveredFace],
    caution: 'Conductivity falls as a cell ages, more through it than along it.',
  },
];
