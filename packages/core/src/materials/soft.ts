import { plasticFace } from './finishes.js';
import type { Face, Material } from './material.js';
import { property } from './property.js';

const silicone_k = property(0.35, [0.2, 0.5], '[ISO-10456]', 'second hand');
const gapPad_k = property(3, [1, 6], 'common practice, no source', 'assumed');
const foam_k = property(0.045, [0.026, 0.06], '[ISO-10456]', 'second hand');
const cork_k = property(0.05, [0.042, 0.065], '[ISO-10456]', 'second hand');
const aerogel_k = property(0.02, [0.013, 0.023], '[AEROGEL-BLANKETS]', 'second hand');
const paper_k = property(0.1, [0.05, 0.18], '[ASHRAE-13]', 'second hand');
const pressboard_k = property(0.13, [0.072, 0.25], '[ASHRAE-13]', 'second hand');

const paperFace: Face = {
  finish: 'bare',
  emissivity: property(0.93, [0.9, 0.97], '[EMISSIVITY-TABLES]', 'second hand'),
};

/** What yields when it is pressed. */
export const softMaterials: readonly Material[] = [
  {
    id: 'foam',
    name: 'soft foam (polyurethane or rubber)',
    layer: 'foam',
    kInPlane_W_per_mK: foam_k,
    kThrough_W_per_mK: foam_k,
    density_kg_per_m3: property(50, [30, 70], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(1500, [1400, 1700], '[ISO-10456]', 'second hand'),
    faces: [plasticFace],
    caution: 'Thickness as mounted counts, not as bought.',
  },
  {
    id: 'silicone',
    name: 'silicone rubber, solid',
    layer: 'other',
    kInPlane_W_per_mK: silicone_k,
    kThrough_W_per_mK: silicone_k,
    density_kg_per_m3: property(1200, [1100, 1450], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(1100, [1000, 1300], '[ISO-10456]', 'second hand'),
    faces: [plasticFace],
  },
  {
    id: 'gap-pad',
    name: 'heat-conducting silicone pad',
    layer: 'other',
    kInPlane_W_per_mK: gapPad_k,
    kThrough_W_per_mK: gapPad_k,
    density_kg_per_m3: property(2600, [2000, 3200], 'common practice, no source', 'assumed'),
    specificHeat_J_per_kgK: property(900, [800, 1000], 'common practice, no source', 'assumed'),
    faces: [plasticFace],
    caution: 'Use the data sheet of the pad at hand; the table only spans what is sold.',
  },
  {
    id: 'aerogel-blanket',
    name: 'silica aerogel blanket',
    layer: 'other',
    kInPlane_W_per_mK: aerogel_k,
    kThrough_W_per_mK: aerogel_k,
    density_kg_per_m3: property(150, [100, 250], '[AEROGEL-BLANKETS]', 'second hand'),
    specificHeat_J_per_kgK: property(1000, [800, 1100], 'from memory', 'from memory'),
    faces: [paperFace],
    caution: 'Loses a quarter to a half of its thickness under firm pressure, and sheds dust.',
  },
  {
    id: 'cork',
    name: 'cork sheet',
    layer: 'other',
    kInPlane_W_per_mK: cork_k,
    kThrough_W_per_mK: cork_k,
    density_kg_per_m3: property(280, [200, 400], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(1500, [1400, 1800], '[ISO-10456]', 'second hand'),
    faces: [{ finish: 'bare', emissivity: property(0.8, [0.7, 0.95], '[EMISSIVITY-TABLES]', 'second hand') }],
  },
  {
    id: 'paper',
    name: 'paper or laminated paperboard',
    layer: 'paper',
    kInPlane_W_per_mK: paper_k,
    kThrough_W_per_mK: paper_k,
    density_kg_per_m3: property(750, [480, 1200], '[ASHRAE-13]', 'second hand'),
    specificHeat_J_per_kgK: property(1340, [1170, 1400], '[ASHRAE-13]', 'second hand'),
    faces: [paperFace],
  },
  {
    id: 'pressboard',
    name: 'pressboard (dense insulating board)',
    layer: 'paper',
    kInPlane_W_per_mK: pressboard_k,
    kThrough_W_per_mK: pressboard_k,
    density_kg_per_m3: property(1000, [800, 1250], '[ASHRAE-13]', 'second hand'),
    specificHeat_J_per_kgK: property(1340, [1300, 1500], '[ASHRAE-13]', 'second hand'),
    faces: [paperFace],
  },
];
