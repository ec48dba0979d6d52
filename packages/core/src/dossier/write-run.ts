import { drawRunChart } from '../drawing/index.js';
import {
  BadInputError,
  decimalsFor,
  formatCelsius,
  formatCount,
  formatDuration,
  formatElapsed,
  formatEstimate,
  formatList,
  formatNumber,
} from '../measure/index.js';
import type { Run } from '../records/index.js';
import {
  describeRecipe,
  describeRefusal,
  type Plateau,
  presentRunChart,
  type RunFlag,
  type RunResult,
} from '../runs/index.js';
import { seriesOfRun } from '../verdict/index.js';
import { type DossierInput, probeName, runAnchor, runName, setupName } from './dossier-input.js';
import { type Content, html, type Markup } from './markup.js';
import { type Row, writeDrawing, writeLevel, writeList, writeNote, writeSheet, writeTable } from './parts.js';
import { nothing, typedNumber } from './words.js';

/** One run in full: chart, plateaus, flags; beside them whether it counts, its phases, its log and how that was read. */
export function writeRun(input: DossierInput, run: Run): Markup {
  const result = input.assessment.runs.runs.find((each) => each.run === run.id);
  const reason = input.assessment.runs.unreadable.find((each) => each.run === run.id)?.reason;
  const work =
    result === undefined
      ? html`<p>This log cannot be read. ${reason ?? 'It was not assessed.'}</p>`
      : writeResult(input, run, result);
  const notes = [
    ...(result === undefined ? [] : [phasesNote(result)]),
    ...conditionNotes(run),
    logNote(run, result),
    recipeNote(run, result),
  ];
  return html`<section class="run" id="${runAnchor(run.id)}" aria-labelledby="${runAnchor(run.id)}-name">
<h3 id="${runAnchor(run.id)}-name">${runName(run)}</h3>
<p class="small">${judgeRun(run, result)}${countWords(run, result)} ${factsOf(input, run, result)}</p>
${writeSheet(work, notes, `Phases, log and recipe of ${runName(run)}`)}</section>
`;
}

/** Whether a run counts, as shape and word. */
export function judgeRun(run: Run, result: RunResult | undefined): Markup {
  if (result === undefined) return writeLevel('stop', 'not readable');
  if (!result.counted) return writeLevel('stop', run.setAside === undefined ? 'not counted' : 'set aside');
  const flagged = result.flags.some(({ level }) => level !== 'holds');
  return writeLevel(flagged ? 'look' : 'holds', 'counted');
}

function countWords(run: Run, result: RunResult | undefined): string {
  const why = run.setAside ?? result?.whyNot;
  return result === undefined || result.counted || !why ? '.' : `: ${why.replace(/\.$/, '')}.`;
}

function factsOf(input: DossierInput, run: Run, result: RunResult | undefined): string {
  const facts = [`Set-up ${setupName(input, run.setup)}`, `session ${run.session}`, run.mounting];
  const startedAt = result?.startedAt ?? run.startedAt;
  if (startedAt)
    facts.push(
      `started ${startedAt.slice(0, 16).replace('T', ' ')}${startedAt.endsWith('Z') ? ' UTC' : startedAt.slice(19)}`,
    );
  if (result !== undefined) facts.push(`${formatDuration(result.span_s)} of log`);
  if (result?.charging) facts.push('charging');
  return `${facts.join('; ')}.`;
}

function writeResult(input: DossierInput, run: Run, result: RunResult): Markup {
  return html`<figure>${writeChart(input, run, result)}</figure>
${writePlateaus(input, run, result)}${writeFlags(run, result.flags)}`;
}

/** One line for each probe and phase. What its ± is made up of stands in columns of its own, as many as this run has contributions. */
function writePlateaus(input: DossierInput, run: Run, result: RunResult): Markup {
  const found = result.plateaus.flatMap(({ result: each }) => (each.ok ? [each.value] : []));
  const names = [...new Set(found.flatMap(({ parts }) => parts.map(({ name }) => name)))];
  return writeTable(
    `Plateaus of ${runName(run)}`,
    'Plateaus. ± is the doubt within this run, made up of what the last columns say, K; neither probe check nor re-mounting is in it.',
    [
      { title: 'probe, phase' },
      { title: 'rise, K', isFigure: true },
      { title: 'level, °C', isFigure: true },
      { title: 'plateau' },
      { title: 'to go, K', isFigure: true },
      { title: 'drift, K/h', isFigure: true },
      { title: 'time constants, min' },
      ...names.map((title) => ({ title, isFigure: true })),
    ],
    result.plateaus.map(({ probe, phase, result: plateau }): Row => {
      const name = `${probeName(input, probe)}, ${phase}`;
      if (!plateau.ok) return { cells: [name, `No plateau: ${describeRefusal(plateau.reason)}.`] };
      return { cells: [name, ...plateauCells(plateau.value, names)] };
    }),
  );
}

function plateauCells(plateau: Plateau, names: readonly string[]): Content[] {
  const { rise_K, level_C, reached, remaining_K, drift_K_per_h, timeConstants, parts } = plateau;
  return [
    formatEstimate(rise_K, '').trim(),
    formatNumber(level_C, decimalsFor(rise_K.u)),
    writeLevel(reached ? 'holds' : 'look', reached ? 'reached' : 'extrapolated'),
    formatNumber(remaining_K, 2),
    formatNumber(drift_K_per_h, 1),
    timeConstants.length === 0
      ? 'level from the start'
      : timeConstants.map(
          ({ tau_s, u_s }, index) =>
            html`${index > 0 && ', '}<span class="nb">${formatEstimate({ value: tau_s / 60, u: u_s / 60 }, '').trim()}</span>`,
        ),
    ...names.map((name) => {
      const part = parts.find((each) => each.name === name);
      return part === undefined ? nothing : partWords(part.u_K);
    }),
  ];
}

/** "< 0.01" for what would read as nothing. */
function partWords(u_K: number): string {
  return u_K < 0.005 ? '< 0.01' : formatNumber(u_K, 2);
}

/** The chart, or why there is none. The assessment may have been made where the log was at hand and this page where it is not. */
function writeChart(input: DossierInput, run: Run, result: RunResult): Markup {
  const bytes = input.logOf(run.log.file);
  if (bytes === undefined) return html`<p>No chart: the log ${run.log.file} is not at hand.</p>`;
  try {
    const view = presentRunChart(input.build, result, seriesOfRun(input.build, run.id, bytes));
    return writeDrawing((width_px) => drawRunChart(view, width_px));
  } catch (error) {
    if (!(error instanceof BadInputError)) throw error;
    return html`<p>No chart: ${error.message}</p>`;
  }
}

function writeFlags(run: Run, flags: readonly RunFlag[]): Markup {
  if (flags.length === 0) return html`<p class="small">No flags.</p>`;
  return writeTable(
    `Flags of ${runName(run)}`,
    '',
    [{ title: 'flag' }, { title: 'what was seen' }, { title: 'effect on the result' }],
    flags.map(({ level, title, detail, effect }, index) => ({
      cells: [
        html`<span class="nb"><span class="no">${index + 1}</span> ${writeLevel(level, title)}</span>`,
        detail,
        effect,
      ],
    })),
  );
}

function phasesNote({ phases, loop_s, plateaus }: RunResult): Markup {
  const roomIn = (kind: string) => plateaus.find(({ phase, result }) => phase === kind && result.ok)?.result;
  const rows = phases.map(({ kind, from_s, to_s, by }) => {
    const plateau = roomIn(kind);
    const room = plateau?.ok ? `, room at ${formatCelsius(plateau.value.ambient_C)}` : '';
    return html`<b>${kind}</b> ${formatElapsed(from_s)} to ${formatElapsed(to_s)} h${by === 'data' ? '' : ', set by a person'}${room}`;
  });
  const isFound = phases.length > 0 && phases.every(({ by }) => by === 'data');
  const loop = loop_s === null ? '' : ` The load loops with a period of ${formatNumber(loop_s / 60, 1)} min.`;
  return writeNote(
    'Phases',
    html`${writeList(rows, 'None.')}<p>${isFound && 'Found in the data.'}${loop}</p>`,
  );
}

function conditionNotes({ conditions }: Run): Markup[] {
  const lines: string[] = [];
  if (conditions?.load_W !== undefined) {
    const { load_W, load_u_W } = conditions;
    lines.push(`Load ${typedNumber(load_W)}${load_u_W === undefined ? '' : ` ± ${typedNumber(load_u_W)}`} W`);
  }
  if (conditions?.ambient_C !== undefined)
    lines.push(
      `Room noted at ${typedNumber(conditions.ambient_C)} °C${conditions.ambient_u_K === undefined ? '' : ` ± ${typedNumber(conditions.ambient_u_K)} K`}`,
    );
  if (conditions?.note) lines.push(conditions.note);
  return lines.length === 0 ? [] : [writeNote('Conditions, as noted', writeList(lines))];
}

function logNote({ log }: Run, result: RunResult | undefined): Markup {
  const unread = result?.report.unread ?? [];
  const rows =
    result === undefined
      ? ''
      : html`<p>${unread.length === 0 ? 'Every row was read.' : html`Unread: ${formatList(unread.map(({ reason, count, firstLine }) => `${formatCount(count, 'row')}, ${reason}, first in line ${firstLine}`))}.`}</p>`;
  return writeNote(
    'Log',
    html`<p><b class="file">${log.file}</b></p><p>SHA-256 <span class="hash">${log.sha256}</span></p>${rows}`,
  );
}

/** The recipe as the import told it; for a log that cannot be read, what was to be done with it. */
function recipeNote(run: Run, result: RunResult | undefined): Markup {
  if (result === undefined)
    return writeNote(
      'Recipe it was to be read by',
      html`<div class="recipe">${writeList(describeRecipe(run.recipe))}</div>`,
    );
  return writeNote(
    'Recipe it was read by',
    html`<div class="recipe">${writeList(result.report.conclusions)}</div>`,
  );
}
