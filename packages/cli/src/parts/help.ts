/** Help, built from the same records that read the command line. */
import type { Action, OptionSpec } from './action.js';
import { type Page, paint, wrap } from './page.js';
import { layTable } from './table.js';

/** What can be typed, in a line each. */
export interface Verb {
  readonly words: string;
  readonly summary: string;
  load(): Promise<Action>;
}

const exitCodes = [
  ['0', 'done; for a verdict: every judged limit holds'],
  ['1', 'a limit fails, or nothing could be judged'],
  ['2', 'bad input: what, where and what to do stand on standard error; nothing was changed'],
  ['70', 'a fault of the program itself'],
  ['130', 'stopped with Ctrl-C; what was asked to be kept is kept'],
] as const;

export function tellProgram(page: Page, verbs: readonly Verb[]): string[] {
  return [
    ...wrap(
      page,
      'Soakbench turns bench temperature logs of a refitted device into a verdict: which shield, with what margin.',
    ),
    '',
    'Usage: npx soakbench VERB ...',
    '',
    ...layVerbs(page, verbs),
    '',
    'npx soakbench VERB --help    explains one verb, with an example that runs',
    'npx soakbench --version      tells the version',
    '',
    ...example(page, [
      { command: 'npx soakbench verdict examples/reedling-r2', shows: 'the verdict on the invented example' },
    ]),
    '',
    'Exit codes',
    ...exitCodes.map(([code, words]) => `  ${code.padEnd(4)}${words}`),
  ];
}

/** A word that stands before several actions, such as `runs`. */
export function tellGroup(page: Page, word: string, verbs: readonly Verb[]): string[] {
  return [
    `Usage: npx soakbench ${word} ${verbs.map(({ words }) => words.slice(word.length + 1)).join('|')} ...`,
    '',
    ...layVerbs(page, verbs),
    '',
    `npx soakbench ${verbs[0]?.words} --help explains one of them, with an example that runs.`,
  ];
}

export function tellAction(page: Page, action: Action): string[] {
  const operands = Object.entries(action.operands);
  const options = Object.entries(action.options);
  const usage = [
    ...operands.map(([name, { optional }]) => (optional ? `[${name}]` : name)),
    ...options.filter(([, { required }]) => required).map(([name, option]) => spell(name, option)),
  ];
  return [
    ...wrap(page, [...usage, '[options]'].join(' '), `Usage: npx soakbench ${action.words} `),
    '',
    ...wrap(page, action.about),
    '',
    ...explain(
      page,
      operands.map(([name, { about }]) => [name, about]),
    ),
    ...(operands.length > 0 ? [''] : []),
    ...explain(page, [
      ...options.map(([name, option]) => [spell(name, option), option.about] as const),
      ['--help', 'this'],
    ]),
    '',
    ...example(page, action.examples),
  ];
}

function layVerbs(page: Page, verbs: readonly Verb[]): string[] {
  return layTable(
    page,
    [{ title: 'verb' }, { title: 'what it answers or does' }],
    verbs.map(({ words, summary }) => [words, summary]),
  );
}

function spell(name: string, { value = 'VALUE', type, multiple }: OptionSpec): string {
  return type === 'boolean' ? `--${name}` : `--${name} ${value}${multiple ? ' ...' : ''}`;
}

function explain(page: Page, rows: readonly (readonly [string, string])[]): string[] {
  const width = Math.max(...rows.map(([name]) => name.length));
  return rows.flatMap(([name, about]) => wrap(page, about, `  ${name.padEnd(width)}  `));
}

function example(page: Page, examples: Action['examples']): string[] {
  return [
    paint(page, 'strong', examples.length === 1 ? 'Example' : 'Examples'),
    ...examples.flatMap(({ command, shows }) => [`  # ${shows}`, `  ${command}`]),
  ];
}
