import { plasticFace } from './finishes.js';
import type { Material } from './material.js';
import { property } from './property.js';

const pet_k = property(0.2, [0.15, 0.4], '[PLASTICS-TABLES]', 'second hand');
const tape_k = property(0.18, [0.16, 0.2], '[ISO-10456]', 'second hand');
const graphiteThrough_k = property(15, [5, 20], '[GRAPHITE-SHEETS]', 'second hand');

/** Published in-plane conductivity of pyrolytic graphite sheet: the thinner, the better ordered. */
const graphiteRows = [
  { thickness_mm: 0.01, k_W_per_mK: property(1950, [1750, 1950], '[GRAPHITE-SHEETS]', 'second hand') },
  { thickness_mm: 0.017, k_W_per_mK: property(1750, [1570, 1850], '[GRAPHITE-SHEETS]', 'second hand') },
  { thickness_mm: 0.025, k_W_per_mK: property(1600, [1450, 1700], '[GRAPHITE-SHEETS]', 'second hand') },
  { thickness_mm: 0.07, k_W_per_mK: property(850, [750, 1000], '[GRAPHITE-SHEETS]', 'second hand') },
  { thickness_mm: 0.1, k_W_per_mK: property(700, [600, 800], '[GRAPHITE-SHEETS]', 'second hand') },
];

export const films: readonly Material[] = [
  {
    id: 'polyimide',
    name: 'polyimide film',
    layer: 'polyimide',
    kInPlane_W_per_mK: property(0.36, [0.24, 0.48], '[POLYIMIDE-PLANE]', 'second hand'),
    kThrough_W_per_mK: property(0.12, [0.1, 0.36], '[POLYIMIDE-FILM]', 'read'),
    density_kg_per_m3: property(1420, [1390, 1450], '[POLYIMIDE-FILM]', 'read'),
    specificHeat_J_per_kgK: property(1090, [1000, 1150], '[POLYIMIDE-FILM]', 'read'),
    faces: [plasticFace],
    caution: 'Sold with a layer of adhesive that is often as thick as the film: count both.',
  },
  {
    id: 'pet-film',
    name: 'PET film',
    layer: 'other',
    kInPlane_W_per_mK: pet_k,
    kThrough_W_per_mK: pet_k,
    density_kg_per_m3: property(1360, [1330, 1400], '[PLASTICS-TABLES]', 'second hand'),
    specificHeat_J_per_kgK: property(1100, [1000, 1170], '[PLASTICS-TABLES]', 'second hand'),
    faces: [plasticFace],
  },
  {
    id: 'acrylic-tape',
    name: 'acrylic adhesive tape',
    layer: 'tape',
    kInPlane_W_per_mK: tape_k,
    kThrough_W_per_mK: tape_k,
    density_kg_per_m3: property(1100, [1050, 1180], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(1500, [1400, 1900], '[ISO-10456]', 'second hand'),
    faces: [plasticFace],
    caution: 'Foam-cored tape is foam, and tape sold as heat-conducting is filled: neither is this row.',
  },
  {
    id: 'graphite',
    name: 'pyrolytic graphite sheet',
    layer: 'graphite',
    kInPlane_W_per_mK: property(1100, [600, 1950], '[GRAPHITE-SHEETS]', 'second hand'),
    kThrough_W_per_mK: graphiteThrough_k,
    kInPlaneByThickness: graphiteRows,
    density_kg_per_m3: property(1700, [850, 2100], 'from memory', 'from memory'),
    specificHeat_J_per_kgK: property(850, [700, 900], 'from memory', 'from memory'),
    faces: [
      { finish: 'bare', emissivity: property(0.8, [0.4, 0.98], '[EMISSIVITY-TABLES]', 'second hand') },
      { finish: 'painted', emissivity: plasticFace.emissivity },
    ],
    caution:
      'Conducts electricity, sheds flakes and is usually sold between films: the thickness of the graphite alone counts. Sheet of natural graphite carries three to ten times less.',
  },
];
