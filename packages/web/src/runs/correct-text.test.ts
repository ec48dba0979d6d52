import { sniffLog } from '@soakbench/core/runs';
import { expect, test } from 'vitest';
import { correctText } from './correct-text.js';

const probes = [{ id: 'c1', name: 'Cell one', place: 'cell' as const }];
const bytes = new TextEncoder().encode(
  `t;C1 a;C2 a\n${Array.from({ length: 6 }, (_, row) => `${row * 10};21,${row};20,5`).join('\n')}\n`,
);
const { recipe } = sniffLog(bytes, { file: 'x.csv', probes });

test('another delimiter splits the columns again, and back again keeps the probes and the cold junction', () => {
  const mapped = {
    ...recipe,
    channels: recipe.channels.map((channel, index) =>
      index === 0 ? { ...channel, probe: 'c1' } : { ...channel, coldJunction: true },
    ),
  };
  const comma = correctText({ probes }, bytes, 'x.csv', mapped, { delimiter: ',' });
  expect(comma.recipe.delimiter).toBe(',');
  expect(comma.sniffed.preview.rows[0]).toEqual(['0;21', '0;20', '5']);
  const back = correctText({ probes }, bytes, 'x.csv', mapped, { delimiter: ';' });
  expect(back.sniffed.preview.rows[0]).toEqual(['0', '21,0', '20,5']);
  expect(back.recipe.channels).toMatchObject([
    { header: 'C1 a', probe: 'c1' },
    { header: 'C2 a', coldJunction: true },
  ]);
});

test('a log of a row a line is none of a reading a line: it says so, and the columns stay to be chosen from', () => {
  const asked = correctText({ probes }, bytes, 'x.csv', recipe, { layout: { form: 'long' } });
  expect(asked.faults[0]).toMatchObject({
    where: 'x.csv:2',
    remedy: expect.stringContaining('a row a line'),
  });
  expect(asked.recipe.layout).toBeUndefined();
  expect(asked.sniffed.lineColumns).toEqual(['t', 'C1 a', 'C2 a']);
});

test('words under which nothing is found show the lines as they stand, and what is wrong', () => {
  const { recipe: kept, sniffed } = correctText({ probes }, bytes, 'x.csv', recipe, { delimiter: '|' });
  expect(kept.delimiter).toBe('|');
  expect(sniffed.preview.rows[0]).toEqual(['0;21,0;20,5']);
  expect(sniffed.conclusions[0]).toMatch(/no row of numbers|one column only/);
});
