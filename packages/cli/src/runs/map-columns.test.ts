import type { Probe, Recipe } from '@soakbench/core/records';
import { expect, test } from 'vitest';
import { mapColumns } from './map-columns.js';

const probes: Probe[] = [
  { id: 'c1', name: 'C1', place: 'cell' },
  { id: 'a', name: 'A', place: 'ambient' },
];
const recipe = {
  channels: [
    { column: 1, header: 'tip', unit: 'mV' },
    { column: 2, header: 'CJ', unit: 'C', coldJunction: true },
    { column: 3, header: 'board', unit: 'C', probe: 'a' },
  ],
} as unknown as Recipe;
const mapped = (...maps: string[]) =>
  mapColumns(recipe, maps, probes).recipe.channels.map(({ probe, coldJunction }) => [probe, coldJunction]);

test('what the header said of the cold junction stands until a person says otherwise', () => {
  expect(mapped('tip=c1')).toEqual([
    ['c1', undefined],
    [undefined, true],
    ['a', undefined],
  ]);
  expect(mapped('tip=c1', 'CJ=')[1]).toEqual([undefined, undefined]);
  expect(mapped('tip=c1', '4=cold-junction')).toEqual([
    ['c1', undefined],
    [undefined, undefined],
    [undefined, true],
  ]);
});

test('one column is the cold junction, not two', () => {
  expect(() => mapped('CJ=cold-junction', 'board=cold-junction')).toThrow(/given twice/);
});
