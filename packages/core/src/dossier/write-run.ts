import { drawRunChart } from '../drawing/index.js';
import {
  BadInputError,
  formatCelsius,
  formatCount,
  formatDuration,
  formatElapsed,
  formatEstimate,
  formatKelvin,
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
import { typedNumber } from './words.js';

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
${writeTable(
  `Plateaus of ${runName(run)}`,
  'Plateaus. ± is the doubt within this run; neither probe check nor re-mounting is in it.',
  [
    { title: 'probe, phase' },
    { title: 'rise', isFigure: true },
    { title: 'level', isFigure: true },
    { title: 'reached or extrapolated' },
    { title: 'time constants' },
    { title: '± is made up of, K' },
  ],
  result.plateaus.map(({ probe, phase, result: plateau }): Row => {
    const name = html`${probeName(input, probe)}<small>${phase}</small>`;
    if (!plateau.ok) return { cells: [name, `No plateau: ${describeRefusal(plateau.reason)}.`] };
    return { cells: [name, ...plateauCells(plateau.value)] };
  }),
)}${writeFlags(run, result.flags)}`;
}

function plateauCells(plateau: Plateau): Content[] {
  const { rise_K, level_C, ambient_C, reached, remaining_K, drift_K_per_h, timeConstants, parts } = plateau;
  const toGo = `${formatKelvin(remaining_K, remaining_K / 5)} to go, ${formatNumber(drift_K_per_h, 1)} K/h at the end`;
  return [
    formatEstimate(rise_K, 'K'),
    html`${formatCelsius(level_C, rise_K.u)}<small>room ${formatCelsius(ambient_C)}</small>`,
    html`${writeLevel(reached ? 'holds' : 'look', reached ? 'reached' : 'extrapolated')}<small>${toGo}</small>`,
    timeConstants.length === 0
      ? 'level from the start'
      : timeConstants.map(
          ({ tau_s, u_s }, index) =>
            html`${index > 0 && ', '}<span class="nb">${timeWords(tau_s, u_s)}</span>`,
        ),
    html`<span class="small">${parts.map(({ name, u_K }) => `${name} ${partWords(u_K)}`).join(', ')}</span>`,
  ];
}

function timeWords(tau_s: number, u_s: number): string {
  return tau_s < 120
    ? formatEstimate({ value: tau_s, u: u_s }, 's')
    : formatEstimate({ value: tau_s / 60, u: u_s / 60 }, 'min');
}

function partWords(u_K: number): string {
  return u_K < 0.005 ? 'under 0.01' : formatNumber(u_K, 2);
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
    'Flags, each with what it does to the result. A number in the chart marks where.',
    [{ title: '' }, { title: 'flag' }, { title: 'what was seen' }, { title: 'effect' }],
    flags.map(({ level, title, detail, effect }, index) => ({
      cells: [html`${index + 1}<span class="vh">.</span>`, writeLevel(level, title), detail, effect],
    })),
  );
}

function phasesNote({ phases, loop_s }: RunResult): Markup {
  const rows = phases.map(
    ({ kind, from_s, to_s, by }) =>
      html`<b>${kind}</b> ${formatElapsed(from_s)} to ${formatElapsed(to_s)} h, ${by === 'data' ? 'found in the data' : 'set by a person'}`,
  );
  const loop =
    loop_s === null ? '' : html`<p>The load loops with a period of ${formatNumber(loop_s / 60, 1)} min.</p>`;
  return writeNote('Phases', html`${writeList(rows, 'None.')}${loop}`);
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
    return writeNote('Recipe it was to be read by', writeList(describeRecipe(run.recipe)));
  return writeNote('Recipe it was read by', writeList(result.report.conclusions));
}
