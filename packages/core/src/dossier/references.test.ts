import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { ageingModels, publishedModels } from '../life/index.js';
import { cite, references } from './references.js';
import { writeMethods } from './write-methods.js';

const read = (path: string) => readFileSync(new URL(path, import.meta.url), 'utf8');
const plain = (text: string) => text.replace(/\*/g, '').replace(/\s+/g, ' ');

/** The entries of the project's own list, by key, without emphasis and line breaks. */
const listed = new Map(
  read('../../../../docs/sources.md')
    .split(/^- /m)
    .slice(1)
    .flatMap((entry): [string, string][] => {
      const key = /^\*\*\[([^\]]+)\]\*\*/.exec(entry)?.[1];
      return key === undefined ? [] : [[key, plain(entry)]];
    }),
);

/** Year and, of a journal, volume and pages: what a reader needs to find the work. */
const figuresOf = (text: string) => text.match(/\d[\d:]*(?:-\d+)?/g) ?? [];

test.each(Object.entries(references))('[%s] says the same as docs/sources.md', (key, text) => {
  const entry = listed.get(key);
  expect(entry, `docs/sources.md has no entry [${key}]`).toBeDefined();
  for (const figure of figuresOf(text)) expect(entry).toContain(figure);
  expect(entry).toContain(/^[^,":]+/.exec(text)?.[0]);
});

test('every key that the methods and the ageing models name has its full text, and no text goes uncited', () => {
  const methods = writeMethods().markup;
  const cited = [...methods.matchAll(/href="#ref-([^"]+)"/g)].map(([, key]) => key);
  expect(methods.replace(/<a class="key"[^>]*>[^<]*<\/a>/g, '')).not.toMatch(/\[[A-Z]/);
  const models = [...ageingModels, ...publishedModels].flatMap(({ source }) =>
    source.replace(/[[\]]/g, '').split(' '),
  );
  expect([...new Set([...cited, ...models])].sort()).toEqual(Object.keys(references).sort());
});

test('a key without an entry stays as it is, and the words around a key are escaped', () => {
  const unknown = `[${['NO', 'SUCH', 'KEY'].join('-')}]`;
  expect(cite(`a < b ${unknown}`).markup).toBe(`a &lt; b ${unknown}`);
});

// The methods tell in words what the code does by figures. If one of these moves, the words must move with it.
test.each([
  { file: '../runs/find-plateau.ts', code: 'shortest = 1.2', words: 'shorter than 1.2 time constants' },
  {
    file: '../runs/find-plateau.ts',
    code: 'extrapolationDoubt = 0.15',
    words: '15\u00a0% of what was still to come',
  },
  { file: '../runs/find-plateau.ts', code: 'settledWithin_K = 0.2', words: 'no more than 0.2\u00a0K' },
  { file: '../runs/find-plateau.ts', code: '0.02 * stepOf(fit)', words: '2\u00a0% of its step' },
  {
    file: '../runs/find-plateau.ts',
    code: 'Math.max(0.5, 0.1 * stepOf(fit))',
    words: 'half a kelvin and a tenth of the step',
  },
  {
    file: '../runs/flag-run.ts',
    code: 'notedAmbientU_K = 1',
    words: '1\u00a0K for a room whose temperature was noted',
  },
  {
    file: '../probes/unchecked-doubt.ts',
    code: '{ logged: 0.5, fixed: 1 }',
    words: '0.5\u00a0K for one that is logged and 1\u00a0K for one that was only stated',
  },
  { file: '../compare/compare-setups.ts', code: 'falseAlarm = 0.05', words: 'is below 0.05' },
  { file: '../compare/judge-margins.ts', code: 'narrow_K = 2', words: 'at least 2\u00a0K are left' },
  { file: '../compare/judge-margins.ts', code: 'coverage = 0.95', words: '95\u00a0% coverage' },
])('"$words" is what $file does', ({ file, code, words }) => {
  expect(read(file)).toContain(code);
  expect(writeMethods().markup).toContain(words);
});
