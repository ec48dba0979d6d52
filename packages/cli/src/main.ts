import { readFileSync } from 'node:fs';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import { packageRoot } from './package-root.js';
import type { Action, ExitCode } from './parts/action.js';
import { explainError } from './parts/explain-error.js';
import { findNearest } from './parts/find-nearest.js';
import { tellAction, tellGroup, tellProgram } from './parts/help.js';
import { allowEarlyLeave, answerPage, note, notePage, say, sayJson } from './parts/output.js';
import { tellFaults } from './parts/tell-faults.js';
import { verbs } from './verbs.js';

/**
 * Runs one command line and sets the exit code of the process.
 *
 * @param argv what was typed behind `soakbench`
 */
export async function main(argv: readonly string[]): Promise<void> {
  allowEarlyLeave();
  try {
    process.exitCode = await carryOut(argv);
  } catch (error) {
    const { code, faults } = explainError(error);
    if (argv.includes('--json')) sayJson({ faults });
    note(tellFaults(notePage(), faults));
    if (error instanceof BadInputError && !needsNoReassurance(argv, faults)) note(['Nothing was changed.']);
    process.exitCode = code;
  }
}

/**
 * Bad input is found before anything is written, which is worth saying unless a remedy has said it already. A server that
 * finds its port taken may have made its store by then.
 */
function needsNoReassurance(argv: readonly string[], faults: readonly Fault[]): boolean {
  return argv[0] === 'serve' || faults.some(({ remedy }) => remedy.endsWith('Nothing was changed.'));
}

const helpWords = new Set(['--help', '-h']);

async function carryOut(argv: readonly string[]): Promise<ExitCode> {
  const [first = '', second = ''] = argv;
  const asksHelp = beforeOperandsOnly(argv).some((word) => helpWords.has(word));
  if (first === '') {
    note(tellProgram(notePage(), verbs));
    return 2;
  }
  if (first === '--version') {
    say([`soakbench ${readVersion()}`]);
    return 0;
  }
  const verb =
    verbs.find(({ words }) => words === `${first} ${second}`) ?? verbs.find(({ words }) => words === first);
  if (verb !== undefined) {
    const action: Action = await verb.load();
    if (!asksHelp) return action.run(argv.slice(verb.words.split(' ').length));
    say(tellAction(answerPage(), action));
    return 0;
  }
  if (helpWords.has(first) || first === 'help') {
    say(tellProgram(answerPage(), verbs));
    return 0;
  }
  const group = verbs.filter(({ words }) => words.startsWith(`${first} `));
  if (group.length > 0 && asksHelp) {
    say(tellGroup(answerPage(), first, group));
    return 0;
  }
  throw unknownVerb(
    first,
    second,
    group.map(({ words }) => words),
  );
}

/** Behind `--` stand names, even where they look like options. */
function beforeOperandsOnly(argv: readonly string[]): readonly string[] {
  const end = argv.indexOf('--');
  return end < 0 ? argv : argv.slice(0, end);
}

function unknownVerb(first: string, second: string, group: readonly string[]): BadInputError {
  if (group.length > 0) {
    const what =
      second === '' || second.startsWith('-')
        ? `What about the ${first}?`
        : `There is no verb "${first} ${second}".`;
    return new BadInputError([{ where: first, what, remedy: `Write one of: ${group.join(', ')}.` }]);
  }
  const nearest = findNearest(
    first,
    verbs.map(({ words }) => words.split(' ')[0] ?? ''),
  );
  return new BadInputError([
    {
      where: first,
      what: 'There is no such verb.',
      remedy: `${nearest === undefined ? '' : `Did you mean ${nearest}? `}See: npx soakbench --help`,
    },
  ]);
}

function readVersion(): string {
  const text = readFileSync(new URL('package.json', packageRoot), 'utf8');
  return String((JSON.parse(text) as { version?: unknown }).version);
}
