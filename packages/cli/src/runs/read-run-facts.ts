import type { Fault } from '@soakbench/core/measure';
import { BadInputError } from '@soakbench/core/measure';
import { type Build, idFrom, type Run } from '@soakbench/core/records';
import { readNumber } from '../parts/read-number.js';

/** What only a person knows about a run. */
export type RunFacts = Omit<Run, 'log' | 'recipe'>;

interface Typed {
  readonly setup: string | undefined;
  readonly session: string | undefined;
  readonly mounting: string | undefined;
  readonly charging: boolean;
  readonly load: string | undefined;
  readonly idle: string | undefined;
  readonly 'pack-current': string | undefined;
  readonly ambient: string | undefined;
}

/**
 * What the options say about the run.
 *
 * @returns the facts, and a fault for each that is missing: none is guessed
 * @throws BadInputError for a set-up that is not there or a figure that is none
 */
export function readRunFacts(
  build: Build,
  typed: Typed,
  startedAt: string | null,
): { facts: RunFacts; missing: readonly Fault[] } {
  const faults: Fault[] = [];
  const { setup, session, mounting } = typed;
  const setups = build.setups.map(({ id, name }) => (id === name ? id : `${id} (${name})`)).join(', ');
  if (setup !== undefined && !build.setups.some(({ id }) => id === setup)) {
    faults.push({
      where: '--setup',
      what: `There is no set-up "${setup}".`,
      remedy: setups === '' ? 'Add the set-up to build.json first.' : `Use one of: ${setups}.`,
    });
  }
  const load_W = readNumber('--load', typed.load, 'watts', faults);
  const idle_W = readNumber('--idle', typed.idle, 'watts', faults);
  const pack_A = readNumber('--pack-current', typed['pack-current'], 'amperes', faults);
  const ambient_C = readNumber('--ambient', typed.ambient, 'degrees Celsius', faults);
  if (faults.length > 0) throw new BadInputError(faults);

  const missing = [
    setup === undefined && {
      where: '--setup',
      what: 'Which set-up lay between zones and pack?',
      remedy: setups === '' ? 'Add the set-ups to build.json first.' : `Write --setup and one of: ${setups}.`,
    },
    session === undefined && {
      where: '--session',
      what: 'Which session was it? Runs of one session share a day and a room.',
      remedy: sessionRemedy(build, startedAt),
    },
    mounting === undefined && {
      where: '--mounting',
      what: 'Which mounting was it? It has a new name each time the pack was taken out and put back.',
      remedy: `Write, for a new one, --mounting "${freshMounting(build)}"`,
    },
  ].filter((fault) => fault !== false);

  const setupName = build.setups.find(({ id }) => id === setup)?.name ?? '';
  const name = nextRunName(build, setupName + (typed.charging ? ', charging' : ''));
  const conditions = { load_W, idle_W, pack_A, charging: typed.charging, ambient_C };
  return {
    facts: {
      id: idFrom(
        name.split(',')[0] ?? name,
        build.runs.map(({ id }) => id),
      ),
      name,
      setup: setup ?? '',
      mounting: mounting ?? '',
      session: session ?? '',
      conditions: Object.fromEntries(Object.entries(conditions).filter(([, value]) => value !== undefined)),
    },
    missing,
  };
}

function sessionRemedy(build: Build, startedAt: string | null): string {
  const known = [...new Set(build.runs.map(({ session }) => session))];
  const date = startedAt?.slice(0, 10);
  const hint = date === undefined ? '--session DATE' : `--session ${date}, the day the log began`;
  const sofar = known.length > 0 ? ` So far: ${known.join(', ')}.` : '';
  return `Write, for instance, ${hint}.${sofar}`;
}

function freshMounting(build: Build): string {
  const taken = new Set(build.runs.map(({ mounting }) => mounting));
  let count = taken.size + 1;
  while (taken.has(`mounting ${count}`)) count += 1;
  return `mounting ${count}`;
}

/** "Run 4, plate": numbered on from the runs there are. */
function nextRunName(build: Build, what: string): string {
  const names = new Set(build.runs.map(({ name }) => name?.split(',')[0]));
  let count = build.runs.length + 1;
  while (names.has(`Run ${count}`)) count += 1;
  return `Run ${count}, ${what}`;
}
