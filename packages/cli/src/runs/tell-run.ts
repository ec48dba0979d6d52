import {
  formatCount,
  formatDuration,
  formatElapsed,
  formatEstimate,
  formatNumber,
  type Sentence,
} from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import {
  describeRefusal,
  linesText,
  type Plateau,
  presentStopRules,
  type RunResult,
  tellSight,
  warmestCell,
} from '@soakbench/core/runs';
import { heading, list, type Page, paint, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { namesOf, opening } from '../parts/words.js';

/**
 * One run in detail: whether it counts, its plateaus and phases, its flags, and how its log was read.
 *
 * @param results all runs of the build; null where the others were not read
 */
export function tellRun(
  page: Page,
  build: Build,
  run: RunResult,
  results: readonly RunResult[] | null,
): string[] {
  return [
    ...opening(page, answerRun(build, run), describeRun(build, run)),
    ...tellPlateaus(page, build, run),
    ...tellPhases(page, run),
    ...tellStopRules(page, build, run),
    ...(run.flags.length === 0 ? [] : [...heading(page, 'Flags'), ...flagLines(page, run)]),
    ...(results === null ? [] : list(page, 'What would have been flagged', tellSight(run, results))),
    ...list(page, 'How the log was read', run.report.conclusions),
    ...list(
      page,
      'Rows without a reading',
      run.report.unread.map(
        ({ reason, count, lines }) =>
          `${formatCount(count, 'row')}: ${reason}, in ${linesText(lines, count)}`,
      ),
    ),
  ];
}

function answerRun(build: Build, run: RunResult): Sentence {
  const { setup, probe } = namesOf(build);
  const name = build.runs.find(({ id }) => id === run.run)?.name ?? `${run.run}, ${setup(run.setup)}`;
  if (!run.counted) return [`${name} does not count: ${run.whyNot}.`];
  const hottest = warmestCell(build, run);
  const rise =
    hottest === null
      ? ''
      : `: under load ${probe(hottest.probe)} settles ${formatEstimate(hottest.rise_K, 'K')} above the room, ${hottest.reached ? 'reached' : 'extrapolated'}`;
  return [`${name} counts${rise}.`];
}

function describeRun(build: Build, run: RunResult): string {
  const { setup } = namesOf(build);
  const record = build.runs.find(({ id }) => id === run.run);
  const load_W = record?.conditions?.load_W;
  const parts = [
    `Set-up ${setup(run.setup)}`,
    `session ${run.session}`,
    run.mounting.startsWith('mounting') ? run.mounting : `mounting ${run.mounting}`,
    run.charging ? 'charging' : 'not charging',
    ...(load_W === undefined ? [] : [`load ${formatNumber(load_W, 1)} W as noted`]),
    ...(run.startedAt === null ? [] : [`began ${run.startedAt.slice(0, 16).replace('T', ' ')} UTC`]),
    `lasted ${formatDuration(run.span_s)}`,
    ...(run.loop_s === null ? [] : [`load loops every ${formatDuration(run.loop_s)}`]),
    ...(record === undefined ? [] : [`log ${record.log.file}`]),
  ];
  return `${parts.join(', ')}.`;
}

function tellStopRules(page: Page, build: Build, run: RunResult): string[] {
  const plateau = warmestCell(build, run);
  if (plateau === null) return [];
  return [
    ...heading(page, `Had a rule stopped the load, at ${namesOf(build).probe(plateau.probe)}`),
    ...layTable(
      page,
      [
        { title: 'rule' },
        { title: 'would have ended it' },
        { title: 'missing', right: true },
        { title: 'from' },
      ],
      presentStopRules(plateau).map((row) => [row.rule, row.ends, row.missing, row.source]),
    ),
  ];
}

function tellPlateaus(page: Page, build: Build, run: RunResult): string[] {
  if (run.plateaus.length === 0) return [];
  const { probe } = namesOf(build);
  return [
    ...heading(page, 'Plateaus'),
    ...layTable(
      page,
      [
        { title: 'probe' },
        { title: 'phase' },
        { title: 'rise K', right: true },
        { title: 'level °C', right: true },
        { title: 'to go K', right: true },
        { title: 'time constant', right: true },
        { title: '' },
      ],
      run.plateaus.map(({ probe: id, phase, result }) => {
        if (!result.ok)
          return [probe(id), phase, 'none', '', '', '', { text: '○ refused', look: 'none' } as const];
        const { rise_K, level_C, remaining_K, reached } = result.value;
        return [
          probe(id),
          phase,
          formatEstimate(rise_K, '').trimEnd(),
          formatNumber(level_C),
          formatNumber(remaining_K),
          slowest(result.value),
          reached
            ? ({ text: '● reached', look: 'holds' } as const)
            : ({ text: '▲ extrapolated', look: 'look' } as const),
        ];
      }),
    ),
    ...run.plateaus.flatMap(({ probe: id, phase, result }) =>
      result.ok ? [] : wrap(page, `${probe(id)}, ${phase}: ${describeRefusal(result.reason)}.`, '  '),
    ),
  ];
}

function slowest({ timeConstants }: Plateau): string {
  const last = timeConstants.at(-1);
  return last === undefined ? '' : `${formatNumber(last.tau_s / 60, 0)} min`;
}

function tellPhases(page: Page, run: RunResult): string[] {
  if (run.phases.length === 0) return [];
  return [
    ...heading(page, 'Phases'),
    ...layTable(
      page,
      [
        { title: 'phase' },
        { title: 'from h:mm', right: true },
        { title: 'to h:mm', right: true },
        { title: 'found' },
      ],
      run.phases.map(({ kind, from_s, to_s, by }) => [
        kind,
        formatElapsed(from_s),
        formatElapsed(to_s),
        by === 'data' ? 'in the data' : 'by hand',
      ]),
    ),
  ];
}

const shapes = { holds: '●', look: '▲', stop: '■' } as const;

/** Every flag with what it does to the result, gravest first. */
export function flagLines(page: Page, run: Pick<RunResult, 'flags'>): string[] {
  return run.flags.flatMap(({ level, title, detail, effect }) =>
    wrap(page, `${title}: ${detail}. Effect: ${effect}.`, `    ${paint(page, level, shapes[level])} `),
  );
}
