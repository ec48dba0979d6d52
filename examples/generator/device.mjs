/**
 * What the demo's build says before anything is measured: device, packs, zones, probes, set-ups, limits. All of it is invented.
 *
 * @typedef {import('../../packages/core/src/records/build-record.ts').Build} Build
 * @typedef {import('../../packages/core/src/records/build-record.ts').Layer} Layer
 */

export const packOutline = { x_mm: 27, y_mm: 13, length_mm: 118, width_mm: 50 };
export const plateOutline = { x_mm: 31, y_mm: 17, length_mm: 110, width_mm: 42 };

/** @type {Layer} */
export const film = {
  material: 'polyimide',
  name: 'polyimide film',
  thickness_mm: 0.06,
  outline: packOutline,
};
/** @type {Layer} */
export const plate = {
  material: 'aluminium',
  name: 'aluminium plate',
  thickness_mm: 0.5,
  outline: plateOutline,
};
/** @type {Layer} */
export const tape = { material: 'tape', name: 'tape', thickness_mm: 0.04, outline: plateOutline };
/** @type {Layer} */
export const strips = {
  material: 'paper',
  name: 'spacer strips, pressboard',
  thickness_mm: 0.25,
  outline: plateOutline,
  strips: { count: 5, width_mm: 4 },
};

/**
 * The build before its probe check and its runs.
 *
 * @type {Build}
 */
export const inventedDevice = {
  format: 'soakbench-build',
  version: 1,
  id: 'reedling-r2',
  name: 'Reedling R2',
  invented: true,
  note: 'Invented example: a hand-held field recorder that does not exist, refitted from a 22 Wh to a 38 Wh two-cell pouch pack. Device, packs, limits and every reading are made up by examples/make-reedling-r2.mjs; the truth behind them is in truth.json.',
  device: {
    name: 'Reedling R2 (invented)',
    length_mm: 172,
    width_mm: 76,
    frontShell_mm: 1.8,
    frontGap_mm: 2.4,
    board: { x_mm: 6, y_mm: 4, length_mm: 160, width_mm: 68, thickness_mm: 1.2 },
    bay_mm: 14.3,
    backShell_mm: 1.8,
  },
  originalPack: {
    name: 'R2 pack, 22 Wh (invented)',
    chemistry: 'LCO pouch (invented)',
    series: 2,
    parallel: 1,
    capacity_mAh: 2970,
    nominal_V: 7.4,
    energy_Wh: 22,
    mass_g: 92,
    outline: { x_mm: 27, y_mm: 15, length_mm: 104, width_mm: 46 },
    thickness_mm: 7.4,
    price: { amount: 35, currency: 'EUR' },
  },
  newPack: {
    name: 'two-cell pouch, 38 Wh (invented)',
    chemistry: 'LCO pouch (invented)',
    series: 2,
    parallel: 1,
    capacity_mAh: 5135,
    nominal_V: 7.4,
    energy_Wh: 38,
    mass_g: 148,
    outline: packOutline,
    thickness_mm: 9.9,
    price: { amount: 48, currency: 'EUR' },
  },
  zones: [
    {
      id: 'converter',
      name: 'power converter',
      x_mm: 34,
      y_mm: 23,
      length_mm: 20,
      width_mm: 16,
      height_mm: 2.4,
      load_W: 1.2,
    },
    {
      id: 'processor',
      name: 'processor',
      x_mm: 63,
      y_mm: 27,
      length_mm: 20,
      width_mm: 20,
      height_mm: 1.8,
      load_W: 2,
    },
    {
      id: 'preamplifier',
      name: 'preamplifiers',
      x_mm: 100,
      y_mm: 33,
      length_mm: 12,
      width_mm: 12,
      height_mm: 1.6,
      load_W: 0.7,
    },
  ],
  probes: [
    {
      id: 'z1',
      name: 'Z1 processor',
      place: 'zone',
      zone: 'processor',
      x_mm: 73,
      y_mm: 37,
      resolution_K: 0.1,
      maker_u_K: 0.5,
    },
    {
      id: 'c1',
      name: 'C1 cell 1',
      place: 'cell',
      cell: 1,
      x_mm: 73,
      y_mm: 37,
      resolution_K: 0.1,
      maker_u_K: 0.5,
      note: 'On the pack face under the processor.',
    },
    {
      id: 'c2',
      name: 'C2 cell 2',
      place: 'cell',
      cell: 2,
      x_mm: 114,
      y_mm: 37,
      resolution_K: 0.1,
      maker_u_K: 0.5,
    },
    {
      id: 'a',
      name: 'A ambient',
      place: 'ambient',
      resolution_K: 0.1,
      maker_u_K: 0.5,
      note: 'Hangs 40 cm beside the device, shaded from it.',
    },
  ],
  probeChecks: [],
  setups: [
    { id: 'bare', name: 'bare', layers: [] },
    {
      id: 'film',
      name: 'polyimide film',
      layers: [film],
      note: 'Insulates; carries next to no heat either way.',
    },
    {
      id: 'plate',
      name: 'plate',
      layers: [film, plate, tape],
      note: '0.5 mm aluminium on film, pressed flat to the pack by tape.',
    },
    {
      id: 'strips',
      name: 'plate on strips',
      layers: [film, plate, strips, tape],
      note: 'The plate held 0.25 mm off the pack.',
    },
  ],
  baseline: 'bare',
  runs: [],
  limits: [
    {
      id: 'prefer',
      where: 'cell',
      state: 'any',
      level: 'prefer',
      limit_C: 35,
      source: 'common practice, no source',
    },
    {
      id: 'charging',
      where: 'cell',
      state: 'charging',
      level: 'stop',
      limit_C: 45,
      source: "invented maker's sheet of the pack",
    },
    {
      id: 'discharging',
      where: 'cell',
      state: 'discharging',
      level: 'stop',
      limit_C: 60,
      source: "invented maker's sheet of the pack",
    },
    {
      id: 'processor',
      where: 'zone',
      zone: 'processor',
      state: 'any',
      level: 'stop',
      limit_C: 85,
      source: 'common practice, no source',
    },
  ],
  designAmbient: { ambient_C: 32, source: 'invented: the warmest day it is to record on' },
  duty: { load_h_per_day: 4, idle_h_per_day: 2, ambient_C: 25, rest_C: 22 },
  dutyYear: {
    origin: 'entered',
    activities: [
      { id: 'load', name: 'recording', h_per_day: 4, use_W: 3.9 },
      { id: 'idle', name: 'listening back', h_per_day: 2, use_W: 1.3 },
    ],
    days_per_week: 6,
    charging: { habit: 'overnight', lowest: 0.1 },
    storage: { weeks_per_year: 4, charge: 0.6, room_C: 20 },
    room: { monthly_C: [21, 21, 22, 23, 25, 28, 30, 30, 27, 24, 22, 21], swing_K: 4 },
    note: 'Invented: how a recordist might use it through a year.',
  },
};

/** The probes in the order of the record. */
export const probeIds = /** @type {const} */ (['z1', 'c1', 'c2', 'a']);

/** What is wrong with each probe: it reads `gain` times the true °C plus `offset_K`. C2 is the one the probe check must catch. */
export const probeFaults = {
  z1: { offset_K: 0.15, gain: 1.001 },
  c1: { offset_K: -0.12, gain: 0.9995 },
  c2: { offset_K: 0.8, gain: 1.0005 },
  a: { offset_K: 0.06, gain: 1 },
};

/** @param {keyof typeof probeFaults} probe @param {number} true_C */
export function readProbe_C(probe, true_C) {
  return probeFaults[probe].gain * true_C + probeFaults[probe].offset_K;
}
