/** What a person says about a log before it is stored, and what is still missing; pure, so that it is tested without a page. */
import type { Fault } from '@soakbench/core/measure';
import { type Build, idFrom, type Probe, type Recipe, type Run, type Setup } from '@soakbench/core/records';
import type { GivenText, ImportQuestion, ReusedRecipe, SniffedLog } from '@soakbench/core/runs';
import { setupName } from '../parts/names.js';

export interface ImportDraft {
  readonly recipe: Recipe;
  /** What was said of the text, over what the file says itself. */
  readonly text: GivenText;
  /** The recipe is that of an earlier log with the same columns. */
  readonly usesEarlier: boolean;
  /** Option taken for each question, counted from 0; absent while nobody has answered it. */
  readonly answers: Readonly<Record<string, number>>;
  readonly name: string;
  readonly setup: string | undefined;
  readonly session: string;
  readonly mounting: string;
  readonly charging: boolean | undefined;
  readonly load_W: number | undefined;
  readonly load_u_W: number | undefined;
  readonly idle_W: number | undefined;
  readonly idle_u_W: number | undefined;
  readonly pack_A: number | undefined;
  readonly ambient_C: number | undefined;
  readonly ambient_u_K: number | undefined;
}

/** A draft that holds what the file says and nothing that only a person can know. */
export function startDraft(
  build: Build,
  recipe: Recipe,
  usesEarlier: boolean,
  startedAt: string | null,
): ImportDraft {
  return {
    recipe,
    text: {},
    usesEarlier,
    answers: {},
    name: '',
    setup: undefined,
    session: startedAt?.slice(0, 10) ?? '',
    mounting: freshMounting(build),
    charging: undefined,
    load_W: undefined,
    load_u_W: undefined,
    idle_W: undefined,
    idle_u_W: undefined,
    pack_A: undefined,
    ambient_C: undefined,
    ambient_u_K: undefined,
  };
}

/** A mounting nobody has used: "mounting 3". */
export function freshMounting(build: Pick<Build, 'runs'>): string {
  const taken = new Set(build.runs.map((run) => run.mounting));
  let count = taken.size + 1;
  while (taken.has(`mounting ${count}`)) count += 1;
  return `mounting ${count}`;
}

/** The draft read by the recipe of the earlier log, or looked at afresh; what was corrected in the recipe goes with it. */
export function turnReuse(
  draft: ImportDraft,
  sniffed: SniffedLog,
  reused: ReusedRecipe,
  usesEarlier: boolean,
): ImportDraft {
  const recipe = usesEarlier ? reused.recipe : sniffed.recipe;
  return { ...draft, recipe, text: {}, usesEarlier, answers: {} };
}

/** Channels under the same name keep the probe they were given, or that they are the cold junction. */
export function keepProbes(fresh: Recipe, old: Recipe): Recipe {
  const given = new Map(
    old.channels.map(({ header, probe, coldJunction }) => [header, { probe, coldJunction }]),
  );
  const channels = fresh.channels.map((channel) =>
    channel.header !== '' && given.has(channel.header)
      ? dropEmpty({ ...channel, ...given.get(channel.header) })
      : channel,
  );
  return { ...fresh, channels };
}

/** Questions the mapping of columns does not already answer in front of the reader. */
export function openQuestions(sniffed: Pick<SniffedLog, 'questions'>): readonly ImportQuestion[] {
  return sniffed.questions.filter(({ field }) => !/^channels\.\d+\.probe$/.test(field));
}

/** The recipe with a column given to a probe, made the cold junction, kept unused, or read in another unit. */
export function setChannel(
  recipe: Recipe,
  column: number,
  header: string,
  change: Partial<Pick<Recipe['channels'][number], 'probe' | 'unit' | 'scale' | 'coldJunction'>>,
): Recipe {
  const known = recipe.channels.some((channel) => channel.column === column);
  const channels = known
    ? recipe.channels.map((channel) => (channel.column === column ? { ...channel, ...change } : channel))
    : [...recipe.channels, { column, header, unit: 'C' as const, ...change }];
  return { ...recipe, channels: channels.map(dropEmpty) };
}

/** The record knows no empty probe, no scale of one and no cold junction that is none. */
function dropEmpty(channel: Recipe['channels'][number]): Recipe['channels'][number] {
  const entries = Object.entries(channel).filter(([, value]) => value !== undefined && value !== false);
  return Object.fromEntries(entries) as Recipe['channels'][number];
}

export type TimeStyle = Recipe['time']['style'];

/** The same time columns read in another style; what the new style needs besides is filled with its usual value. */
export function setTimeStyle(recipe: Recipe, style: TimeStyle): Recipe {
  const columns = recipe.time.style === 'interval' ? [0] : recipe.time.columns;
  const first = columns.slice(0, 1);
  switch (style) {
    case 'interval':
      return { ...recipe, time: { style, interval_s: 10 } };
    case 'iso':
      return { ...recipe, time: { style, columns } };
    case 'date':
      return { ...recipe, time: { style, columns, order: 'day-month' } };
    case 'epoch':
      return { ...recipe, time: { style, columns: first, unit: 's' } };
    case 'elapsed':
      return { ...recipe, time: { style, columns: first, unit: 's' } };
    case 'clock':
      return { ...recipe, time: { style, columns: first } };
  }
}

/** What must be said before the log can be stored, in the order of the form. */
export function missingAnswers(
  build: Pick<Build, 'probes'>,
  draft: ImportDraft,
  questions: readonly ImportQuestion[],
): string[] {
  const used = draft.recipe.channels.flatMap(({ probe }) => (probe === undefined ? [] : [probe]));
  const device = used.filter((id) => build.probes.find((probe) => probe.id === id)?.place !== 'ambient');
  return [
    ...questions.filter(({ field }) => draft.answers[field] === undefined).map(({ question }) => question),
    ...(device.length === 0 ? ['Which column belongs to which probe?'] : []),
    ...(draft.setup === undefined ? ['Which set-up lay between board and pack?'] : []),
    ...(draft.session === '' ? ['Which session was it?'] : []),
    ...(draft.mounting === '' ? ['Which mounting was it?'] : []),
    ...(draft.charging === undefined ? ['Was the pack being charged?'] : []),
  ];
}

/** Whether the recipe reads a probe in the room's air. */
export function logsAmbient(build: Pick<Build, 'probes'>, recipe: Recipe): boolean {
  return recipe.channels.some(
    ({ probe }) => build.probes.find(({ id }) => id === probe)?.place === 'ambient',
  );
}

/** A file name not yet used in the build: the same logger often calls every log alike. */
export function freeFileName(build: Pick<Build, 'runs'>, file: string): string {
  const taken = new Set(build.runs.map((run) => run.log.file));
  if (!taken.has(file)) return file;
  const dot = file.lastIndexOf('.');
  const [stem, ending] = dot > 0 ? [file.slice(0, dot), file.slice(dot)] : [file, ''];
  let count = 2;
  while (taken.has(`${stem}-${count}${ending}`)) count += 1;
  return `${stem}-${count}${ending}`;
}

/**
 * The run record of a complete draft.
 *
 * @param sha256 of the log's bytes; the server computes it again
 */
export function runOfDraft(build: Build, draft: ImportDraft, file: string, sha256: string): Run {
  const taken = build.runs.map(({ id }) => id);
  const name = draft.name.trim() || nextRunName(build, draft.setup ?? '');
  const noted = logsAmbient(build, draft.recipe)
    ? {}
    : { ambient_C: draft.ambient_C, ambient_u_K: draft.ambient_u_K };
  const { load_W, load_u_W, idle_W, idle_u_W, pack_A, charging } = draft;
  const conditions = { load_W, load_u_W, idle_W, idle_u_W, pack_A, charging, ...noted };
  return {
    id: idFrom(name, taken),
    name,
    log: { file, sha256 },
    setup: draft.setup ?? '',
    mounting: draft.mounting,
    session: draft.session,
    conditions: Object.fromEntries(Object.entries(conditions).filter(([, value]) => value !== undefined)),
    recipe: draft.recipe,
  };
}

/** "Run 4, plate": numbered on from the runs there are. */
function nextRunName(build: Build, setup: string): string {
  const names = new Set(build.runs.map((run) => run.name?.split(',')[0]));
  let count = build.runs.length + 1;
  while (names.has(`Run ${count}`)) count += 1;
  return `Run ${count}, ${setupName(build, setup)}`;
}

/** A log whose bytes are already there would count twice. */
export function sameLog(build: Pick<Build, 'runs'>, sha256: string): Run | undefined {
  return build.runs.find((run) => run.log.sha256 === sha256);
}

export function twiceFault(file: string, run: Pick<Run, 'id' | 'name'>): Fault {
  return {
    where: file,
    what: `holds the same bytes as the log of ${run.name ?? run.id}.`,
    remedy: 'Importing it again would count one run twice. Close this and open that run.',
  };
}

/** A probe made while a log is imported; where exactly it sits can be entered later. */
export function probeFrom(build: Pick<Build, 'probes'>, header: string, place: Probe['place']): Probe {
  const name = header.replace(/[[(].*?[\])]/g, '').trim() || 'probe';
  return {
    id: idFrom(
      name,
      build.probes.map(({ id }) => id),
    ),
    name,
    place,
  };
}

/** The set-up every comparison starts from: nothing added. */
export function bareSetup(build: Pick<Build, 'setups'>): Setup {
  return {
    id: idFrom(
      'bare',
      build.setups.map(({ id }) => id),
    ),
    name: 'bare',
    layers: [],
  };
}
