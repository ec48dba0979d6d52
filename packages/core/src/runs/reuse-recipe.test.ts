import { expect, test } from 'vitest';
import type { Recipe } from '../records/index.js';
import { reuseRecipe } from './reuse-recipe.js';
import { sniffLog } from './sniff-log.js';

const bytesOf = (text: string) => new TextEncoder().encode(text);
const evening = (day: string, extra = '') =>
  `${extra}Date;Pack;Board\n${Array.from({ length: 9 }, (_, row) => `${day} 10:00:0${row};21,${row};20,0`).join('\n')}\n`;
const probes = [{ id: 'cell', name: 'Cell one', place: 'cell' as const }];
const sniff = (text: string) => sniffLog(bytesOf(text), { file: 'next.csv', probes });
const answered = (text: string): Recipe => {
  const { recipe } = sniff(text);
  return {
    ...recipe,
    time: { ...recipe.time, order: 'month-day' } as Recipe['time'],
    channels: recipe.channels.map((channel, index) =>
      index === 0 ? { ...channel, probe: 'cell', unit: 'F' } : channel,
    ),
  };
};
const reuse = (text: string, recipe: Recipe) =>
  reuseRecipe(bytesOf(text), sniff(text), [{ id: 'run-1', name: 'Run 1', recipe }], 'next.csv');

test('what a person answered and corrected holds for the next file of the same columns', () => {
  const reused = reuse(evening('04/05/2024', 'Logger 17\nBattery low\n'), answered(evening('03/04/2024')));
  expect(reused?.run).toBe('run-1');
  expect(reused?.why).toContain('Run 1');
  expect(reused?.recipe).toMatchObject({ headerLines: 3, time: { order: 'month-day' } });
  expect(reused?.recipe.channels[0]).toMatchObject({ probe: 'cell', unit: 'F' });
});

test('a recipe from before all names were kept is known by its own columns', () => {
  const { headers: _none, ...old } = answered(evening('03/04/2024'));
  expect(reuse(evening('04/05/2024'), old)?.run).toBe('run-1');
});

test('of such a recipe the time must be told alike: rows counted off would read any log', () => {
  const { headers: _none, ...old } = answered(evening('03/04/2024'));
  expect(reuse(evening('04/05/2024'), { ...old, time: { style: 'interval', interval_s: 1 } })).toBeNull();
});

test.each([
  ['other names', evening('03/04/2024').replace('Board', 'Shell')],
  ['a column more', evening('03/04/2024').replace('Board', 'Board;Room').replace(/20,0/g, '20,0;19,0')],
  ['another delimiter', evening('03/04/2024').replaceAll(';', '\t')],
  // The 25th cannot be a month, so the answer given before would read no row.
  ['dates that the earlier order cannot read', evening('25/04/2024')],
])('%s: looked at afresh', (_name, text) => {
  expect(reuse(text, answered(evening('03/04/2024')))).toBeNull();
});
