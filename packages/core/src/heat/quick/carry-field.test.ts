import { expect, test } from 'vitest';
import { carryField } from './carry-field.js';

const edges = (...mm: number[]) => Float64Array.from(mm, (each) => each * 1e-3);

/** A device of three cells by two in plan, its board, layers and pack where they are said to be. */
function cells(layers_mm: number, z_mm: number[]) {
  const packBack = 7 + layers_mm;
  return {
    grid: { x_m: edges(0, 10, 30, 60), y_m: edges(0, 10, 20), z_m: edges(...z_mm) },
    nx: 3,
    ny: 2,
    nz: z_mm.length - 1,
    laid: {
      thickness_mm: 14,
      depths: {
        board: 2,
        boardBack: 3,
        layers: 4,
        pack: 4 + layers_mm,
        packBack,
        backShell: 12,
      },
    },
  };
}

const thin = cells(0.5, [0, 1, 2, 3, 4, 4.5, 7.5, 12, 14]);
const thick = cells(1, [0, 1, 2, 3, 4, 4.5, 5, 8, 12, 14]);
/** Tells where it was: a hundred for each column, one for each layer. */
const field = Float64Array.from(
  { length: 3 * 2 * thin.nz },
  (_, at) => 100 * Math.floor(at / thin.nz) + (at % thin.nz),
);

test('on as many cells each way it is the field itself', () => {
  expect(carryField(thin, field, { ...thin })).toBe(field);
});

test('what lay in the pack lies in the pack again, and so do layers, board and shells', () => {
  const carried = carryField(thin, field, thick);
  expect([...carried.slice(0, thick.nz)]).toEqual([0, 1, 2, 3, 4, 4, 5, 6, 7]);
  expect([...carried.slice(thick.nz, 2 * thick.nz)]).toEqual(
    [0, 1, 2, 3, 4, 4, 5, 6, 7].map((layer) => 100 + layer),
  );
});

test('columns go to the nearest ones in plan', () => {
  const finer = { ...thick, nx: 6, grid: { ...thick.grid, x_m: edges(0, 5, 10, 20, 30, 45, 60) } };
  const carried = carryField(thin, field, finer);
  const columns = Array.from({ length: 6 }, (_, i) => Math.floor((carried[i * thick.nz] as number) / 100));
  expect(columns).toEqual([0, 0, 1, 1, 2, 2]);
});
