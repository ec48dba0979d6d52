import { drawField, drawIntervals, type FieldView, temperatureAnchors } from '../drawing/index.js';
import {
  type HeatReport,
  type HeatView,
  type PredictionTable,
  planeWords,
  presentFieldPlan,
  presentFieldSection,
  presentHeat,
} from '../heat/index.js';
import { formatCelsius } from '../measure/index.js';
import { type DossierInput, setupName } from './dossier-input.js';
import { type Content, html, type Markup } from './markup.js';
import {
  writeByWidth,
  writeDrawing,
  writeList,
  writeNote,
  writeSheet,
  writeTable,
  writeTitleBlock,
} from './parts.js';
import { nothing, typedNumber } from './words.js';
import { writeSentence } from './write-opening.js';

/** What would an untried set-up do? Fields as pictures, measured beside predicted, and how far the model is to be trusted. */
export function writeHeat(input: DossierInput, { assessment, shown }: HeatReport): Markup {
  const view = presentHeat(input.build, assessment);
  const work = html`<p class="lead">${writeSentence(view.answer)}</p><p class="lead small">${view.condition}</p>
${shown.map(({ setup, field }) => writeField(input, setup, field))}
<h3>How far to trust it</h3>
${writeTrust(view)}`;
  return html`${writeSheet(work, writeNotes(view), 'What would help, and what was taken for granted')}
${writePredictions('Rises above the room under load, K: measured by runs, or predicted by the model', view.loaded)}
${view.charging !== null && writePredictions('The same under load while it charges, K', view.charging)}
${writeDoubts(view)}
${writeFitted(view)}`;
}

function writeField(input: DossierInput, setup: string, field: HeatReport['shown'][number]['field']): Markup {
  const anchors = temperatureAnchors(input.build);
  const plan = presentFieldPlan(input.build, field, anchors);
  const section = presentFieldSection(input.build, field, anchors);
  const isSoaked = input.heat?.assessment.predictions.some((each) => each.setup === setup && each.measured);
  return html`<h3>${setupName(input, setup)}: the field</h3>
<figure>${writePlane(plan)}${writePlane(section)}
${writeTitleBlock([
  ['Plan', `at ${planeWords[field.plane]}`],
  ['Section', 'A–A, through the hottest zone'],
  [
    'Depth drawn',
    writeByWidth((width_px) => `${typedNumber(drawField(section, width_px, false).stretch)} : 1`),
  ],
  ['Lines', writeByWidth((width_px) => stepsWords([plan, section], width_px))],
  ['Set-up', `${setupName(input, setup)}${isSoaked ? ', soaked' : ', untried'}`],
  ['State', 'full load, predicted'],
  ['Ambient', formatCelsius(field.ambient_C)],
])}</figure>`;
}

function writePlane(view: FieldView): Markup {
  return writeDrawing((width_px) => drawField(view, width_px, true));
}

function stepsWords(views: readonly FieldView[], width_px: number): string {
  const steps = views.map((view) => drawField(view, width_px, false).step_K);
  return steps.map((step) => (step === null ? 'none' : `each ${typedNumber(step)} K`)).join(', ');
}

function writeTrust({ trust }: HeatView): Markup {
  if (trust === null)
    return html`<p class="lead">Nothing tells yet: it takes runs of a second set-up to predict one from the other. Until then the model’s own error is taken as twice the usual.</p>`;
  return html`<p class="lead">${trust.sentence}</p>
<figure>${writeDrawing((width_px) => drawIntervals(trust.view, width_px))}</figure>
${writeTable(
  'Each set-up predicted from the others, K',
  '',
  [
    { title: 'set-up' },
    { title: 'probe' },
    { title: 'measured', isFigure: true },
    { title: 'predicted', isFigure: true },
    { title: 'off by', isFigure: true },
    { title: 'inside 95 %' },
  ],
  trust.rows.map(({ setup, probe, measured, predicted, off, isInside }) => ({
    cells: [setup, probe, measured, predicted, off, isInside ? 'yes' : 'no'],
  })),
)}`;
}

function writeNotes({ advice, unpredicted, beyond, notes }: HeatView): Markup[] {
  const list = (title: string, items: readonly string[]) =>
    items.length === 0 ? [] : [writeNote(title, writeList(items))];
  return [
    ...list(
      'What would help most',
      advice.map(({ words, gain }) => `${words}: ${gain}`),
    ),
    ...list('Not predicted', unpredicted),
    ...list('Beyond what was checked', beyond),
    ...list('Taken for granted', notes),
  ];
}

function writePredictions(about: string, { setups, rows }: PredictionTable): Markup {
  return writeTable(
    about,
    about,
    [
      { title: 'place' },
      ...setups.map(({ name, isMeasured }) => ({
        title: `${name}, ${isMeasured ? 'soaked' : 'untried'}`,
        isFigure: true,
      })),
    ],
    rows.map(({ name, figures }) => ({
      cells: [
        name,
        ...figures.map(
          (all): Content =>
            all.length === 0
              ? nothing
              : all.map(({ mark, words }) =>
                  mark === 'measured'
                    ? html`<b>${words}</b> <small>measured</small>`
                    : html`${words} <small>predicted</small>`,
                ),
        ),
      ],
    })),
  );
}

function writeDoubts({ doubts, doubtColumns }: HeatView): Markup {
  return writeTable(
    'Where the doubt of each set-up’s hottest cell comes from',
    'Where the doubt comes from: the hottest place of any cell, one standard uncertainty in K, part by part.',
    [
      { title: 'set-up' },
      { title: 'rise, K', isFigure: true },
      ...doubtColumns.map((title) => ({ title, isFigure: true })),
    ],
    doubts.map(({ name, rise, parts }) => ({ cells: [name, rise, ...parts] })),
  );
}

function writeFitted({ fitted }: HeatView): Markup {
  return html`${writeTable(
    'What was fitted',
    `What was fitted. ${fitted.sentence}`,
    [
      { title: 'unknown' },
      { title: 'from the table', isFigure: true },
      { title: 'factor', isFigure: true },
      { title: 'learned from the runs', isFigure: true },
      { title: 'source' },
    ],
    fitted.rows.map(({ name, nominal, factor, learned, source }) => ({
      cells: [name, nominal, factor, learned, source.replace(/[[\]]/g, '')],
    })),
  )}${writeList(fitted.entangled)}`;
}
