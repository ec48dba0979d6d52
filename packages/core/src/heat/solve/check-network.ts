import { BadInputError } from '../../measure/index.js';
import { measureRange, type Range } from './assemble.kernel.js';
import { checkCounts } from './grid.js';
import type { HeatNetwork } from './network.js';

/**
 * Refuses what cannot be solved: wrong lengths, conductances that are negative or not finite, and cells that have no path
 * to ambient, which would warm for ever. Returns the greatest conductance.
 */
export function checkNetwork(network: HeatNetwork): number {
  const { nx, ny, nz, east_W_per_K, north_W_per_K, up_W_per_K, sink_W_per_K } = network;
  checkCounts(nx, ny, nz);
  const n = nx * ny * nz;
  const check = (where: string, values: Float64Array): Range => {
    if (values.length !== n) {
      throw new BadInputError([
        { where, what: `has ${values.length} values for ${n} cells.`, remedy: 'Give one per cell.' },
      ]);
    }
    const range = measureRange(values);
    if (!(Number.isFinite(range.sum) && range.least >= 0)) {
      const at = values.findIndex((value) => !(value >= 0 && value < Infinity));
      throw new BadInputError([
        {
          where: `${where}[${at}]`,
          what: `is ${values[at]}.`,
          remedy: 'It must be finite and not negative.',
        },
      ]);
    }
    return range;
  };
  const east = check('east_W_per_K', east_W_per_K);
  const north = check('north_W_per_K', north_W_per_K);
  const up = check('up_W_per_K', up_W_per_K);
  const sink = check('sink_W_per_K', sink_W_per_K);
  checkEnds(network);
  // Where nothing is closed but what leads out of the grid, one path to ambient serves all.
  const closed = up.zeros > nx * ny || east.zeros > ny * nz || north.zeros > nx * nz;
  const stranded = closed ? findStranded(network) : sink.most > 0 ? -1 : 0;
  if (stranded >= 0) {
    throw new BadInputError([
      {
        where: `cell ${stranded}`,
        what: 'has no path to ambient.',
        remedy: 'Let some outer face it is joined to lose heat: a film above 0.',
      },
    ]);
  }
  return Math.max(east.most, north.most, up.most, sink.most);
}

/** Conductances that would lead out of the grid must be nothing: the solver reads them as leading to no one. */
function checkEnds({ nx, ny, nz, east_W_per_K, north_W_per_K, up_W_per_K }: HeatNetwork): void {
  const wrong = (where: string, at: number) =>
    new BadInputError([
      {
        where: `${where}[${at}]`,
        what: 'leads out of the grid.',
        remedy: 'Make it 0; heat leaves by the sink.',
      },
    ]);
  for (let q = 0; q < nx * ny; q++) {
    const c = q * nz;
    if (up_W_per_K[c + nz - 1] !== 0) throw wrong('up_W_per_K', c + nz - 1);
    const inLastRow = q >= nx * (ny - 1);
    const last = q % nx === nx - 1;
    if (!inLastRow && !last) continue;
    for (let k = 0; k < nz; k++) {
      if (last && east_W_per_K[c + k] !== 0) throw wrong('east_W_per_K', c + k);
      if (inLastRow && north_W_per_K[c + k] !== 0) throw wrong('north_W_per_K', c + k);
    }
  }
}

/** A cell that no walk along conductances from a cell with a sink reaches, or -1. */
function findStranded(network: HeatNetwork): number {
  const { nx, ny, nz, east_W_per_K, north_W_per_K, up_W_per_K, sink_W_per_K } = network;
  const n = nx * ny * nz;
  const seen = new Uint8Array(n);
  const open: number[] = [];
  const visit = (cell: number, conductance: number | undefined) => {
    if (!(conductance! > 0) || seen[cell]) return;
    seen[cell] = 1;
    open.push(cell);
  };
  for (let c = 0; c < n; c++) visit(c, sink_W_per_K[c]);
  for (let cell = open.pop(); cell !== undefined; cell = open.pop()) {
    const plane = nx * nz;
    visit(cell + 1, up_W_per_K[cell]);
    visit(cell + nz, east_W_per_K[cell]);
    visit(cell + plane, north_W_per_K[cell]);
    if (cell >= 1) visit(cell - 1, up_W_per_K[cell - 1]);
    if (cell >= nz) visit(cell - nz, east_W_per_K[cell - nz]);
    if (cell >= plane) visit(cell - plane, north_W_per_K[cell - plane]);
  }
  return seen.indexOf(0);
}
