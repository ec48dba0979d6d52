import { drawIntervals } from '../drawing/index.js';
import { ageingModels, type LifeBracket, presentBracket } from '../life/index.js';
import { formatList, formatNumber } from '../measure/index.js';
import { type DossierInput, setupName } from './dossier-input.js';
import { html, type Markup } from './markup.js';
import { writeDrawing, writeNote, writeSheet, writeTable } from './parts.js';
import { cite } from './references.js';
import { rangeWords } from './words.js';
import { writeForecast } from './write-forecast.js';

/** What does the heat cost? Years as ranges where the models can speak; else a bracket of ratios, and plainly no year count. */
export function writeLife(input: DossierInput): Markup {
  const made = input.forecast;
  return made.ok ? writeForecast(input, made.value) : writeBracket(input, made.reason.remedy);
}

function writeBracket(input: DossierInput, why: string): Markup {
  const { life, verdict } = input.assessment;
  if (life === null)
    return html`<p class="lead">Not bracketed: it takes a duty, and a baseline with a counted run. ${why}</p>`;
  const baseline = setupName(input, life.baseline);
  const rows = life.rows.filter(({ setup }) => setup !== life.baseline);
  if (rows.length === 0)
    return html`<p class="lead">Nothing to hold against ${baseline}: no other set-up has a counted run.</p>`;
  const view = presentBracket(input.build, life, verdict.setup);
  const work = html`<p class="lead">${bracketWords(input, life)}</p>
<p class="lead">How many times longer the cells last than in ${baseline}: thick stroke, the range over the published models; thin stroke, with the temperatures’ own 95 % as well; ticks, the single models. There is no dot, because no model is the best one.</p>
<figure>${writeDrawing((width_px) => drawIntervals(view, width_px))}</figure>
${writeBrackets(input, life)}${writeModels(input, life)}`;
  const notes = [
    writeNote(
      'No year count',
      html`<p>${why}</p><p>These are ratios between set-ups. How many years a pack lasts depends on its own chemistry and history, which nobody measured here, so no years are given.</p>`,
    ),
    writeNote('An ordinary day', html`<p>${life.conditions}.</p>`),
    writeNote('Not in it', html`<p>${formatList(life.missing)}.</p>`),
  ];
  return writeSheet(work, notes, 'What the bracket leaves out');
}

function bracketWords(input: DossierInput, life: LifeBracket): string {
  const row =
    life.rows.find(({ setup }) => setup === input.subject && setup !== life.baseline) ??
    life.rows.find(({ setup }) => setup !== life.baseline);
  if (row === undefined) return '';
  return `With ${setupName(input, row.setup)} the cells last ${rangeWords(row.factor, 2)} times as long as with ${setupName(input, life.baseline)}, by heat alone and over the published models.`;
}

function writeBrackets(input: DossierInput, life: LifeBracket): Markup {
  return writeTable(
    'Life as a multiple of the baseline’s',
    '',
    [
      { title: 'set-up' },
      { title: 'cell under load, °C', isFigure: true },
      { title: 'cell idle, °C', isFigure: true },
      { title: 'over the models', isFigure: true },
      { title: 'with 95 % of the temperatures', isFigure: true },
    ],
    life.rows.map(({ setup, load_C, idle_C, factor, factor95 }) => ({
      isPick: setup === input.assessment.verdict.setup,
      cells: [
        setupName(input, setup),
        formatNumber(load_C, 1),
        formatNumber(idle_C, 1),
        setup === life.baseline ? '1' : `${rangeWords(factor, 2)} ×`,
        setup === life.baseline ? '1' : `${rangeWords(factor95, 2)} ×`,
      ],
    })),
  );
}

function writeModels(input: DossierInput, life: LifeBracket): Markup {
  const [first] = life.rows;
  if (first === undefined) return html``;
  const rows = life.rows.filter(({ setup }) => setup !== life.baseline);
  return writeTable(
    'Life factors model by model',
    'Model by model. The energy is that of the time to a given loss, not of the loss at a given time.',
    [
      { title: 'model' },
      { title: 'source' },
      { title: 'kJ/mol', isFigure: true },
      ...rows.map(({ setup }) => ({ title: setupName(input, setup), isFigure: true })),
    ],
    first.byModel.map(({ model, activation_kJ_per_mol }) => ({
      cells: [
        model,
        cite(ageingModels.find((each) => each.model === model)?.source ?? ''),
        formatNumber(activation_kJ_per_mol, 1),
        ...rows.map(({ byModel }) => {
          const factor = byModel.find((each) => each.model === model)?.factor;
          return factor === undefined ? '' : `${formatNumber(factor, 2)} ×`;
        }),
      ],
    })),
  );
}
