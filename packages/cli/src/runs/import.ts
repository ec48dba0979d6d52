import { BadInputError, type Fault } from '@soakbench/core/measure';
import { type Build, checkBuild, type Run } from '@soakbench/core/records';
import {
  convertSignals,
  describeRecipe,
  type LogBytes,
  type ReusedRecipe,
  readLog,
  reuseRecipe,
  sniffLog,
} from '@soakbench/core/runs';
import { assessBuild } from '@soakbench/core/verdict';
import { changeFolder, hashLog, readFolder } from '@soakbench/store';
import { defineAction, type ExitCode, jsonOption, type OptionSpecs, type Options } from '../parts/action.js';
import { jsonVersion } from '../parts/assessment-json.js';
import { folderOperand } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { ProgressLine, quiet_ms } from '../parts/progress-line.js';
import { answerQuestions } from './answer-questions.js';
import { chooseFileName } from './choose-file-name.js';
import { mapColumns } from './map-columns.js';
import { readLogFile } from './read-log-file.js';
import { type RunFacts, readRunFacts } from './read-run-facts.js';
import { partsHelp, readParts } from './set-parts.js';
import { tellImport } from './tell-import.js';

/** The log as it is going to be read, and what stands in the way of the import. */
export interface Preparation {
  readonly file: string;
  readonly conclusions: readonly string[];
  readonly openFaults: readonly Fault[];
  readonly questions: ReturnType<typeof answerQuestions>['questions'];
  readonly report: ReturnType<typeof readLog>['report'];
  /** The run whose recipe is used again, if any. */
  readonly reused: ReusedRecipe | null;
}

const importOptions = {
  setup: {
    type: 'string',
    required: true,
    value: 'ID',
    about: 'the set-up between zones and pack, by its id in build.json',
  },
  session: {
    type: 'string',
    required: true,
    value: 'NAME',
    about: 'runs of one session share a day and a room, such as 2025-03-15',
  },
  mounting: {
    type: 'string',
    required: true,
    value: 'NAME',
    about: 'a new name each time the pack was taken out and put back',
  },
  charging: { type: 'boolean', about: 'the pack was being charged' },
  load: { type: 'string', value: 'W', about: 'power under load as noted, W' },
  idle: { type: 'string', value: 'W', about: 'power at idle as noted, W' },
  'pack-current': { type: 'string', value: 'A', about: 'mean current through the pack under load, A' },
  ambient: {
    type: 'string',
    value: 'C',
    about: 'the room’s temperature as noted, °C, where no probe logged it',
  },
  map: {
    type: 'string',
    multiple: true,
    value: 'COLUMN=PROBE',
    about:
      'which probe a column belongs to: its header or its number from 1, and the id of the probe; nothing behind = leaves the column unused, cold-junction makes it that of the thermocouples',
  },
  answer: {
    type: 'string',
    multiple: true,
    value: 'QUESTION=NUMBER',
    about: 'the answer to a question the log leaves open, such as time.order=1',
  },
  set: {
    type: 'string',
    multiple: true,
    value: 'PART=VALUE',
    about: `how the log is to be read, over what it says itself: ${partsHelp}`,
  },
  unit: {
    type: 'string',
    multiple: true,
    value: 'COLUMN=UNIT',
    about: 'the unit of a column, one of C, F, K, mV, uV, ohm and kohm: its header or its number from 1',
  },
  afresh: {
    type: 'boolean',
    about: 'do not read the log by the recipe of an earlier one with the same columns',
  },
  interval: {
    type: 'string',
    value: 'S',
    about: 'take no notice of the clock: rows are so many seconds apart',
  },
  name: { type: 'string', value: 'FILE', about: 'the name of the log in logs/; needed with -' },
  'dry-run': { type: 'boolean', about: 'show what would be done, and change nothing' },
  json: jsonOption,
} as const satisfies OptionSpecs;

type ImportOptions = Options<typeof importOptions>;

export const importRun = defineAction({
  words: 'runs import',
  about:
    'Takes a temperature log into a build folder: works out how to read it, says what it concluded, copies the log to logs/ as it came and adds the run to build.json. What the log leaves open is asked and never guessed: give the answer with --answer. Nothing is changed unless all of it succeeds.',
  operands: {
    FOLDER: folderOperand,
    LOG: { about: 'the log as the logger wrote it, or - for standard input' },
  },
  options: importOptions,
  examples: [
    {
      command:
        'npx soakbench runs import examples/reedling-r2 examples/reedling-r2/logs/invented-06-bare.csv --dry-run',
      shows: 'how a log in °F with decimal commas is understood; nothing is changed',
    },
  ],
  async run({ FOLDER, LOG }, options): Promise<ExitCode> {
    const progress = new ProgressLine(quiet_ms);
    try {
      return await importLog(FOLDER, LOG, options, progress);
    } finally {
      progress.clear();
    }
  },
});

/** The work of `runs import`, with a line that tells how far it is. */
async function importLog(
  FOLDER: string,
  LOG: string,
  options: ImportOptions,
  progress: ProgressLine,
): Promise<ExitCode> {
  // The log comes first: standard input may take its time, and the folder must not grow old meanwhile.
  const { log, head, name } = await readLogFile(LOG, options.name, (share) =>
    progress.tell(share, share < 1 ? `reading ${LOG}` : `measuring ${LOG}`),
  );
  const folder = readFolder(FOLDER, (file, share) => progress.tell(share, `checking ${file}`));
  const { build } = folder;
  const sha256 = hashLog(log);
  const file = chooseFileName(folder, name, sha256);
  const parts = readParts(options.set, options.unit);
  const sniffed = sniffLog(head, { file, probes: build.probes, given: parts.text });
  // What is said of the text makes it another log than the earlier ones.
  const mayReuse = !options.afresh && Object.keys(parts.text).length === 0;
  const reused = mayReuse ? reuseRecipe(head, sniffed, build.runs, file) : null;
  const answered = answerQuestions(
    { ...sniffed, recipe: reused?.recipe ?? sniffed.recipe },
    options.answer,
    options.interval,
    (field) => reused !== null || parts.settles(field),
  );
  const mapped = mapColumns(parts.overlay(answered.recipe), options.map, build.probes);
  // Of the readings only what is told of them is kept: they are read again when the run is measured.
  const { report, startedAt } = convertSignals(readLog(log, mapped.recipe, file), build.probes, file);
  const facts = readRunFacts(build, options, startedAt);
  const openFaults = [
    ...answered.open,
    ...mapped.open,
    ...facts.missing,
    ...sameLogFaults(build, file, sha256),
  ];
  const preparation = {
    file,
    conclusions:
      reused === null
        ? sniffed.conclusions
        : [`${reused.why} With --afresh it is looked at anew.`, ...describeRecipe(mapped.recipe)],
    openFaults,
    questions: answered.questions,
    report,
    reused,
  };

  if (openFaults.length > 0) {
    if (!options['dry-run']) throw new BadInputError(openFaults);
    progress.clear();
    if (options.json) sayJson(importJson(build, preparation, null, true));
    else say(tellImport(answerPage(), build, preparation, null, true));
    return 0;
  }
  const grown = addRun(build, facts.facts, { file, sha256 }, report.recipe);
  const added = grown.runs.at(-1) as Run;
  const [result = null] = assessBuild({ ...grown, runs: [added] }, () => log).runs.runs;
  if (!options['dry-run']) await keepRun(FOLDER, grown, { file, log });
  progress.clear();
  if (options.json) sayJson(importJson(grown, preparation, { run: added, result }, options['dry-run']));
  else say(tellImport(answerPage(), grown, preparation, { run: added, result }, options['dry-run']));
  return 0;
}

/** Adds log and run to the folder. Ctrl-C in the midst of it ends the process at once and leaves the folder as it was. */
async function keepRun(
  folder: string,
  grown: Build,
  added: { readonly file: string; readonly log: LogBytes },
): Promise<void> {
  const calledOff = new AbortController();
  const stop = () => {
    calledOff.abort();
    process.exit(130);
  };
  process.on('SIGINT', stop);
  try {
    await changeFolder(folder, grown, added, calledOff.signal);
  } finally {
    process.off('SIGINT', stop);
  }
}

export interface Imported {
  readonly run: Run;
  readonly result: ReturnType<typeof assessBuild>['runs']['runs'][number] | null;
}

function importJson(build: Build, preparation: Preparation, imported: Imported | null, dryRun: boolean) {
  const { file, conclusions, openFaults, questions, report, reused } = preparation;
  return {
    format: 'soakbench-import',
    version: jsonVersion,
    build: { id: build.id, name: build.name, invented: build.invented === true },
    changed: !dryRun,
    file: `logs/${file}`,
    recipe: report.recipe,
    reused: reused === null ? null : { run: reused.run, why: reused.why },
    conclusions,
    questions,
    open: openFaults,
    rows: report.rows,
    unread: report.unread,
    lines: report.lines,
    doubts: report.doubts,
    late: report.late,
    restarts: report.restarts,
    run: imported?.run ?? null,
    result: imported?.result ?? null,
  };
}

/** A log whose bytes are already there would count twice. */
function sameLogFaults(build: Build, file: string, sha256: string): Fault[] {
  const same = build.runs.find((run) => run.log.sha256 === sha256);
  if (same === undefined) return [];
  return [
    {
      where: file,
      what: `This log is in the build already, as ${same.id}.`,
      remedy: `One run must not count twice. See: npx soakbench runs show FOLDER ${same.id}`,
    },
  ];
}

/** The build with the run at its end. @throws BadInputError where the record does not fit the schema */
function addRun(build: Build, facts: RunFacts, log: Run['log'], recipe: Run['recipe']): Build {
  return checkBuild({ ...build, runs: [...build.runs, { ...facts, log, recipe }] });
}
