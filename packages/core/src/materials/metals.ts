import { painted } from './finishes.js';
import type { Face, Material } from './material.js';
import { property } from './property.js';

/** A sheet that is anodised or painted radiates like a plastic: it must not count as shiny. */
const aluminiumFaces: readonly Face[] = [
  { finish: 'bare', emissivity: property(0.08, [0.04, 0.1], '[EMISSIVITY-TABLES]', 'second hand') },
  { finish: 'oxidised', emissivity: property(0.25, [0.2, 0.4], '[EMISSIVITY-TABLES]', 'second hand') },
  { finish: 'anodised', emissivity: property(0.8, [0.55, 0.97], '[EMISSIVITY-TABLES]', 'second hand') },
  painted,
];

const steelFaces: readonly Face[] = [
  { finish: 'bare', emissivity: property(0.16, [0.07, 0.25], '[EMISSIVITY-TABLES]', 'second hand') },
  { finish: 'oxidised', emissivity: property(0.79, [0.7, 0.9], '[EMISSIVITY-TABLES]', 'second hand') },
  painted,
];

const aluminium1050_k = property(222, [209, 230], '[ALUMINIUM-SHEETS]', 'second hand');
const aluminium5052_k = property(138, [130, 145], '[ALUMINIUM-SHEETS]', 'second hand');
/** Alloy unknown: from the worst of the common sheet alloys to the best. */
const aluminium_k = property(175, [130, 230], '[ALUMINIUM-SHEETS]', 'second hand');
const copper_k = property(390, [380, 401], '[INCROPERA]', 'second hand');
const stainless_k = property(16, [14, 17], '[ISO-10456]', 'second hand');
/** Pure copper 401 W/mK at 300 K and 393 at 400 K. */
const copperSlope = { value: (393 - 401) / 401 / 100, source: '[INCROPERA]', status: 'from memory' } as const;
/** Steel with 18 % chromium and 8 % nickel, 14.9 W/mK at 300 K and 16.6 at 400 K. */
const stainlessSlope = {
  value: (16.6 - 14.9) / 14.9 / 100,
  source: '[INCROPERA]',
  status: 'from memory',
} as const;
const mildSteel_k = property(50, [43, 60], '[ISO-10456]', 'second hand');

export const metals: readonly Material[] = [
  {
    id: 'aluminium',
    name: 'aluminium sheet, alloy not known',
    layer: 'aluminium',
    kInPlane_W_per_mK: aluminium_k,
    kThrough_W_per_mK: aluminium_k,
    density_kg_per_m3: property(2700, [2680, 2800], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(900, [880, 920], '[ALUMINIUM-SHEETS]', 'second hand'),
    faces: aluminiumFaces,
    caution:
      'Alloys differ by almost a factor of two in what they carry sideways: state the alloy where it is known.',
  },
  {
    id: 'aluminium-1050',
    name: 'aluminium 1050 (99.5 %)',
    layer: 'aluminium',
    kInPlane_W_per_mK: aluminium1050_k,
    kThrough_W_per_mK: aluminium1050_k,
    density_kg_per_m3: property(2705, [2700, 2710], '[ALUMINIUM-SHEETS]', 'second hand'),
    specificHeat_J_per_kgK: property(910, [900, 920], '[ALUMINIUM-SHEETS]', 'second hand'),
    faces: aluminiumFaces,
  },
  {
    id: 'aluminium-5052',
    name: 'aluminium 5052 (with magnesium)',
    layer: 'aluminium',
    kInPlane_W_per_mK: aluminium5052_k,
    kThrough_W_per_mK: aluminium5052_k,
    density_kg_per_m3: property(2685, [2670, 2700], '[ALUMINIUM-SHEETS]', 'second hand'),
    specificHeat_J_per_kgK: property(890, [880, 900], 'from memory', 'from memory'),
    faces: aluminiumFaces,
  },
  {
    id: 'copper',
    name: 'copper sheet or foil',
    layer: 'copper',
    kInPlane_W_per_mK: copper_k,
    kThrough_W_per_mK: copper_k,
    kSlope_per_K: copperSlope,
    density_kg_per_m3: property(8940, [8900, 8960], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(385, [376, 390], '[INCROPERA]', 'second hand'),
    faces: [
      { finish: 'bare', emissivity: property(0.04, [0.02, 0.07], '[EMISSIVITY-TABLES]', 'second hand') },
      { finish: 'oxidised', emissivity: property(0.7, [0.6, 0.8], '[EMISSIVITY-TABLES]', 'second hand') },
      painted,
    ],
  },
  {
    id: 'stainless-steel',
    name: 'stainless steel sheet',
    layer: 'other',
    kInPlane_W_per_mK: stainless_k,
    kThrough_W_per_mK: stainless_k,
    kSlope_per_K: stainlessSlope,
    density_kg_per_m3: property(7900, [7700, 8000], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(480, [460, 500], '[ISO-10456]', 'second hand'),
    faces: steelFaces,
  },
  {
    id: 'mild-steel',
    name: 'mild steel or tinplate',
    layer: 'other',
    kInPlane_W_per_mK: mildSteel_k,
    kThrough_W_per_mK: mildSteel_k,
    density_kg_per_m3: property(7800, [7700, 7900], '[ISO-10456]', 'second hand'),
    specificHeat_J_per_kgK: property(450, [430, 500], '[ISO-10456]', 'second hand'),
    faces: steelFaces,
  },
];
