import type { Build, Layer, Setup } from '../../src/records/index.js';

const outline = { x_mm: 10, y_mm: 5, length_mm: 60, width_mm: 40 };
const plate = { x_mm: 14, y_mm: 9, length_mm: 52, width_mm: 32 };

const film: Layer = { material: 'polyimide', name: 'film', thickness_mm: 0.1 };
const sheet: Layer = { material: 'aluminium', name: 'plate', thickness_mm: 0.5, outline: plate };
const strips: Layer = {
  material: 'paper',
  name: 'strips',
  thickness_mm: 0.5,
  outline: plate,
  strips: { count: 3, width_mm: 4 },
};

/** Set-ups of the small device, for tests: invented. */
export const smallSetups: Readonly<Record<'bare' | 'plate' | 'strips', Setup>> = {
  bare: { id: 'bare', name: 'bare', layers: [] },
  plate: { id: 'plate', name: 'plate', layers: [film, sheet] },
  strips: { id: 'strips', name: 'plate on strips', layers: [film, sheet, strips] },
};

/** A small invented device that is solved in a blink, for tests. */
export function smallDevice(): Build {
  return {
    format: 'soakbench-build',
    version: 1,
    id: 'small',
    name: 'Small device',
    invented: true,
    device: {
      name: 'small',
      length_mm: 80,
      width_mm: 50,
      frontShell_mm: 1.5,
      frontGap_mm: 2,
      board: { x_mm: 5, y_mm: 4, length_mm: 70, width_mm: 42, thickness_mm: 1.2 },
      bay_mm: 8,
      backShell_mm: 1.5,
    },
    newPack: {
      name: 'pack',
      series: 1,
      parallel: 1,
      energy_Wh: 12,
      outline,
      thickness_mm: 5,
    },
    zones: [
      {
        id: 'chip',
        name: 'chip',
        x_mm: 30,
        y_mm: 15,
        length_mm: 12,
        width_mm: 12,
        height_mm: 1.5,
        load_W: 1,
      },
      { id: 'coil', name: 'coil', x_mm: 54, y_mm: 28, length_mm: 8, width_mm: 8, height_mm: 1, load_W: 0.5 },
    ],
    probes: [
      { id: 'z', name: 'Z chip', place: 'zone', zone: 'chip' },
      { id: 'c', name: 'C pack', place: 'cell', cell: 1, x_mm: 36, y_mm: 21 },
      { id: 'e', name: 'E pack end', place: 'cell', cell: 1, x_mm: 64, y_mm: 40 },
      { id: 's', name: 'S shell', place: 'shell', x_mm: 36, y_mm: 21 },
      { id: 'a', name: 'A room', place: 'ambient' },
    ],
    probeChecks: [],
    setups: Object.values(smallSetups),
    baseline: 'bare',
    runs: [],
    limits: [],
  };
}
