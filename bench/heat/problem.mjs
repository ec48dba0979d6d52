// @ts-check
/**
 * The stack that the heat solver is measured on, and harder relatives of it: boxes on a tensor grid, millimetres and watts
 * per metre and kelvin. Not a real product: a board with four chips, a plate, tape and a pack between two shells.
 *
 * @typedef {readonly [x0: number, x1: number, y0: number, y1: number, z0: number, z1: number]} Box mm
 * @typedef {{ box: Box, kxy: number, kz: number, capacity: number }} Material capacity in J/m3K; later boxes overwrite
 * @typedef {{ name: string, box: Box, watts: number }} Chip
 * @typedef {{ breaks: readonly number[], cells?: readonly number[] }} AxisLines without cells: a cell every 3.5 mm
 * @typedef {{ x: AxisLines, y: AxisLines, z: AxisLines, materials: readonly Material[], films: Films }} Stack
 * @typedef {Record<'west' | 'east' | 'south' | 'north' | 'front' | 'back', number>} Films W/m2K
 * @typedef {readonly [x: number, y: number, z: number]} Refinement
 */
import { closeSync, openSync, writeSync } from 'node:fs';

/** @type {AxisLines} */
const x = {
  breaks: [0, 15, 25, 30, 50, 62, 80, 92, 110, 122, 140, 152, 165, 190, 195, 220],
};
/** @type {AxisLines} */
const y = { breaks: [0, 10, 25, 30, 35, 40, 45, 50, 60, 70, 80, 85, 100, 110] };
/** @type {AxisLines} */
const z = {
  breaks: [0, 1.5, 2, 3.2, 4.2, 5, 5.5, 5.6, 11.6, 12.5, 14],
  cells: [2, 2, 3, 2, 2, 2, 1, 5, 2, 2],
};

/** @type {readonly Chip[]} */
export const chips = [
  { name: 'A', box: [50, 62, 40, 50, 3.2, 4.2], watts: 2 },
  { name: 'B', box: [80, 92, 60, 70, 3.2, 4.2], watts: 1.5 },
  { name: 'C', box: [110, 122, 35, 45, 3.2, 4.2], watts: 1 },
  { name: 'D', box: [140, 152, 70, 80, 3.2, 4.2], watts: 0.5 },
];

/** @type {Box} */
export const pack = [30, 190, 30, 80, 5.6, 11.6];

/** @param {number} h W/m2K @returns {Films} */
const everywhere = (h) => ({ west: h, east: h, south: h, north: h, front: h, back: h });

/** @param {Box} box @param {number} kxy @param {number} kz @param {number} capacity @returns {Material} */
const fill = (box, kxy, kz, capacity) => ({ box, kxy, kz, capacity });

const whole = /** @type {const} */ ([0, 220, 0, 110]);
const plateLine = /** @type {const} */ ([25, 195, 25, 85]);
const air = fill([...whole, 0, 14], 0.03, 0.03, 1.2e3);
const shells = [fill([...whole, 0, 1.5], 0.2, 0.2, 1.5e6), fill([...whole, 12.5, 14], 0.2, 0.2, 1.5e6)];
const board = [
  fill([15, 165, 10, 100, 2, 3.2], 18, 0.35, 2.2e6),
  ...chips.map(({ box }) => fill(box, 80, 80, 1.7e6)),
];
const plate = fill([...plateLine, 5, 5.5], 205, 205, 2.43e6);
const tape = fill([...plateLine, 5.5, 5.6], 0.2, 0.2, 1.5e6);
const cells = fill(pack, 25, 0.9, 2.2e6);

/** @type {Stack} */
export const base = {
  x,
  y,
  z,
  materials: [air, ...shells, ...board, plate, tape, cells],
  films: everywhere(10),
};

/** @type {Readonly<Record<string, Refinement>>} the sizes the solver is measured at */
export const sizes = { '60k': [1, 1, 1], '490k': [2, 2, 2], '2M': [4, 4, 2], '4M': [4, 4, 4] };

/** @param {AxisLines} line @param {readonly number[]} more @returns {AxisLines} */
const withBreaks = (line, more) => ({
  breaks: [...new Set([...line.breaks, ...more])].sort((a, b) => a - b),
});

/** Steps that double away from an edge, on both sides. @param {readonly number[]} edges @param {number} end */
function grade(edges, end) {
  const breaks = [];
  for (const edge of edges) {
    for (let step = 0.05, away = step; away < 3.5; step *= 2, away += step) {
      for (const at of [edge - away, edge + away]) if (at > 0 && at < end) breaks.push(Number(at.toFixed(4)));
    }
  }
  return breaks;
}

const slots = Array.from({ length: 32 }, (_, n) => /** @type {const} */ ([30 + 5 * n, 30.8 + 5 * n]));
const holes = Array.from({ length: 20 }, (_, n) => 30 + 8 * n).filter((at) => at + 3 <= 190);
const holeRows = holes.filter((at) => at + 3 <= 80);
/** @param {Box} box */
const hole = (box) => fill(box, 0.03, 0.03, 1.2e3);

const strips = [
  [25, 30.1],
  [107.45, 112.55],
  [190, 195],
].map(([from, to]) => fill([Number(from), Number(to), 25, 85, 5.5, 6.5], 0.05, 0.05, 1e5));

/** Half of the squares of tape missing, by a fixed draw. */
function patches() {
  const squares = [];
  let state = 12345;
  for (let from = 25; from < 195; from += 6) {
    for (let to = 25; to < 85; to += 6) {
      state = (16807 * state) % 2147483647;
      if (state / 2147483647 < 0.5) {
        squares.push(hole([from, Math.min(from + 6, 195), to, Math.min(to + 6, 85), 5.5, 5.6]));
      }
    }
  }
  return squares;
}

/** @type {Readonly<Record<string, { stack: Stack, refine: Refinement }>>} stacks that upset a solver made for the base */
export const hardCases = {
  'cells eight times narrower in x than in y': { stack: base, refine: [8, 1, 1] },
  'spacer strips with slivers of 0.05 to 0.1 mm': {
    stack: {
      ...base,
      x: withBreaks(x, [20, 24.9, 30.1, 107.45, 107.5, 112.5, 112.55, 190.1, 194.9]),
      y: withBreaks(y, [24.9, 29.9, 80.1, 85.1]),
      z: {
        breaks: [0, 1.5, 2, 3.2, 4.2, 5, 5.5, 6.5, 12.4, 12.5, 14],
        cells: [2, 2, 3, 2, 2, 2, 2, 5, 1, 2],
      },
      materials: [
        air,
        ...shells,
        ...board,
        plate,
        ...strips,
        fill([30, 190, 30, 80, 6.5, 12.4], 25, 0.9, 2.2e6),
      ],
    },
    refine: [1, 1, 1],
  },
  'grid graded to 0.05 mm at the edges of plate and chips': {
    stack: {
      ...base,
      x: withBreaks(x, grade([25, 50, 152, 195], 220)),
      y: withBreaks(y, grade([25, 85], 110)),
    },
    refine: [1, 1, 1],
  },
  'plate with slots': {
    stack: {
      ...base,
      x: withBreaks(x, slots.flat()),
      materials: [...base.materials, ...slots.map(([from, to]) => hole([from, to, 25, 80, 5, 5.5]))],
    },
    refine: [1, 1, 1],
  },
  'plate with holes': {
    stack: {
      ...base,
      x: withBreaks(
        x,
        holes.flatMap((at) => [at, at + 3]),
      ),
      y: withBreaks(
        y,
        holeRows.flatMap((at) => [at, at + 3]),
      ),
      materials: [
        ...base.materials,
        ...holes.flatMap((a) => holeRows.map((b) => hole([a, a + 3, b, b + 3, 5, 5.5]))),
      ],
    },
    refine: [1, 1, 1],
  },
  'copper wire of 0.3 mm': {
    stack: {
      ...base,
      y: withBreaks(y, [54.9, 55.2]),
      materials: [...base.materials, fill([0, 220, 54.9, 55.2, 4.2, 5], 400, 400, 3.4e6)],
    },
    refine: [1, 1, 1],
  },
  'patchy tape': {
    stack: {
      ...base,
      x: withBreaks(
        x,
        Array.from({ length: 28 }, (_, n) => 31 + 6 * n),
      ),
      y: withBreaks(
        y,
        Array.from({ length: 9 }, (_, n) => 31 + 6 * n),
      ),
      materials: [...base.materials, ...patches()],
    },
    refine: [1, 1, 1],
  },
  'graphite sheet of 0.025 mm': {
    stack: {
      ...base,
      z: {
        breaks: [0, 1.5, 2, 3.2, 4.2, 5.4, 5.425, 5.525, 11.525, 12.5, 14],
        cells: [2, 2, 3, 2, 2, 2, 1, 5, 2, 2],
      },
      materials: [
        air,
        ...shells,
        ...board,
        fill([...plateLine, 5.4, 5.425], 1500, 5, 1.5e6),
        fill([...plateLine, 5.425, 5.525], 0.2, 0.2, 1.5e6),
        fill([30, 190, 30, 80, 5.525, 11.525], 25, 0.9, 2.2e6),
      ],
    },
    refine: [1, 1, 1],
  },
  'conductivities a million apart': {
    stack: {
      ...base,
      materials: base.materials.map((material) =>
        material === air
          ? { ...air, kxy: 0.002, kz: 0.002 }
          : material === plate
            ? { ...plate, kxy: 1500, kz: 1500 }
            : material,
      ),
    },
    refine: [1, 1, 1],
  },
  'films of 0.1 W/m2K': { stack: { ...base, films: everywhere(0.1) }, refine: [1, 1, 1] },
  'films of 1e-4 W/m2K': { stack: { ...base, films: everywhere(1e-4) }, refine: [1, 1, 1] },
  'heat sink on one face': {
    stack: { ...base, films: { ...everywhere(0), front: 1000, back: 2 } },
    refine: [1, 1, 1],
  },
};

/** Edges in metres. @param {AxisLines} line @param {number} refine */
function edgesOf({ breaks, cells: counts }, refine) {
  const edges = [Number(breaks[0])];
  for (let b = 0; b + 1 < breaks.length; b++) {
    const from = Number(breaks[b]);
    const to = Number(breaks[b + 1]);
    const count = (counts?.[b] ?? Math.ceil(Number(((to - from) / 3.5).toFixed(9)))) * refine;
    for (let c = 1; c <= count; c++) edges.push(from + ((to - from) * c) / count);
  }
  return Float64Array.from(edges, (edge) => edge * 1e-3);
}

/**
 * Arrays of a stack on a grid, for `assembleNetwork`; a cell takes the last box that holds its centre.
 *
 * @param {Stack} stack
 * @param {Refinement} refine
 */
export function buildStack(stack, refine) {
  const grid = {
    x_m: edgesOf(stack.x, refine[0]),
    y_m: edgesOf(stack.y, refine[1]),
    z_m: edgesOf(stack.z, refine[2]),
  };
  const [nx, ny, nz] = [grid.x_m.length - 1, grid.y_m.length - 1, grid.z_m.length - 1];
  const n = nx * ny * nz;

  /** @param {Float64Array} edges @param {number} from @param {number} to */
  const between = (edges, from, to) => {
    let first = 0;
    while (first + 1 < edges.length && centre(edges, first) < from * 1e-3) first++;
    let last = first;
    while (last + 1 < edges.length && centre(edges, last) < to * 1e-3) last++;
    return [first, last];
  };
  /** Cells of a box. @param {Box} box */
  const cellsIn = (box) => {
    const [i0, i1] = between(grid.x_m, box[0], box[1]);
    const [j0, j1] = between(grid.y_m, box[2], box[3]);
    const [k0, k1] = between(grid.z_m, box[4], box[5]);
    const found = new Int32Array(
      (Number(i1) - Number(i0)) * (Number(j1) - Number(j0)) * (Number(k1) - Number(k0)),
    );
    let at = 0;
    for (let j = Number(j0); j < Number(j1); j++) {
      for (let i = Number(i0); i < Number(i1); i++) {
        for (let k = Number(k0); k < Number(k1); k++) found[at++] = k + nz * (i + nx * j);
      }
    }
    return found;
  };
  /** @param {number} cell */
  const volumeOf = (cell) => {
    const column = Math.floor(cell / nz);
    return size(grid.z_m, cell % nz) * size(grid.x_m, column % nx) * size(grid.y_m, Math.floor(column / nx));
  };

  const kxy = new Float64Array(n);
  const kz = new Float64Array(n);
  const capacity_J_per_m3K = new Float64Array(n);
  for (const material of stack.materials) {
    for (const cell of cellsIn(material.box)) {
      kxy[cell] = material.kxy;
      kz[cell] = material.kz;
      capacity_J_per_m3K[cell] = material.capacity;
    }
  }
  const source_W = new Float64Array(n);
  for (const { box, watts } of chips) {
    const inside = cellsIn(box);
    const volume = inside.reduce((sum, cell) => sum + volumeOf(cell), 0);
    for (const cell of inside) source_W[cell] = (watts * volumeOf(cell)) / volume;
  }
  return {
    grid,
    conductivity: { kx: kxy, ky: kxy, kz },
    films: stack.films,
    capacity_J_per_m3K,
    source_W,
    cellsIn,
    volumeOf,
  };
}

/** @param {Float64Array} edges @param {number} at */
function centre(edges, at) {
  return 0.5 * (Number(edges[at]) + Number(edges[at + 1]));
}

/** @param {Float64Array} edges @param {number} at */
function size(edges, at) {
  return Number(edges[at + 1]) - Number(edges[at]);
}

/**
 * Hottest cell of each chip, hottest cell and mean of the pack, K.
 *
 * @param {ReturnType<typeof buildStack>} problem
 * @param {Float64Array} rise_K
 */
export function readRises({ cellsIn, volumeOf }, rise_K) {
  /** @param {Box} box */
  const most = (box) => cellsIn(box).reduce((high, cell) => Math.max(high, Number(rise_K[cell])), -Infinity);
  const inPack = cellsIn(pack);
  const volume = inPack.reduce((sum, cell) => sum + volumeOf(cell), 0);
  const mean = inPack.reduce((sum, cell) => sum + volumeOf(cell) * Number(rise_K[cell]), 0) / volume;
  return [...chips.map(({ box }) => most(box)), most(pack), mean];
}

/**
 * Means over the volume of chip A and of the pack, K: what grids of a stack can be extrapolated to.
 *
 * @param {ReturnType<typeof buildStack>} problem
 * @param {Float64Array} rise_K
 */
export function readMeans({ cellsIn, volumeOf }, rise_K) {
  return [chips[0]?.box ?? pack, pack].map((box) => {
    let [sum, volume] = [0, 0];
    for (const cell of cellsIn(box)) {
      sum += volumeOf(cell) * Number(rise_K[cell]);
      volume += volumeOf(cell);
    }
    return sum / volume;
  });
}

/**
 * Leaves a network and its source in a file, as bench/heat/peers/problem.h describes it.
 *
 * @param {import('../../packages/core/dist/heat/index.js').HeatNetwork} network
 * @param {Float64Array} source_W
 * @param {string} name
 */
export function writeProblem(network, source_W, name) {
  const file = openSync(name, 'w');
  writeSync(file, Int32Array.of(network.nx, network.ny, network.nz, 0));
  const { east_W_per_K, north_W_per_K, up_W_per_K, sink_W_per_K } = network;
  for (const values of [east_W_per_K, north_W_per_K, up_W_per_K, sink_W_per_K, source_W]) {
    const bytes = new Uint8Array(values.buffer, values.byteOffset, values.byteLength);
    for (let at = 0; at < bytes.length; )
      at += writeSync(file, bytes, at, Math.min(1 << 26, bytes.length - at));
  }
  closeSync(file);
}
