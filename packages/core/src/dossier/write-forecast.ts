import { drawBands, drawIntervals } from '../drawing/index.js';
import {
  type LifeView,
  lifeCautions,
  presentBandChart,
  presentLife,
  presentLifeRatios,
  presentWhatIfs,
} from '../life/index.js';
import { plainText } from '../measure/index.js';
import { askWhatIfs, type BuildForecast } from '../verdict/index.js';
import { type DossierInput, setupName } from './dossier-input.js';
import { html, type Markup } from './markup.js';
import { writeDrawing, writeNote, writeSheet, writeTable } from './parts.js';
import { cite } from './references.js';

/** Years as ranges, the order of the set-ups with its chance, what else would help, and where the models stand. */
export function writeForecast(input: DossierInput, made: BuildForecast): Markup {
  const { forecast } = made;
  const chosen = input.assessment.verdict.setup;
  const view = presentLife(forecast);
  const bands = presentBandChart(forecast, chosen);
  const ratios = presentLifeRatios(forecast, chosen);
  const first = forecast.setups[0]?.name ?? '';
  const work = html`<p class="lead">${plainText(view.answer)} ${plainText(view.years)}</p>
<p class="lead">Capacity over the years: dark, half of the draws; light, nine in ten; dashed, the dark band of ${first}. No course is drawn as the best one, because no model is known to be right for this pack. The line at 80 % is where a pack counts as worn out.</p>
<figure>${writeDrawing((width_px) => drawBands(bands, width_px))}</figure>
${ratios.rows.length > 0 ? html`<p class="lead">Life as a multiple of that in ${first}, pack by pack: thick, half of the draws; thin, nine in ten; ticks, single models.</p><figure>${writeDrawing((width_px) => drawIntervals(ratios, width_px))}</figure>` : ''}
${writeYears(view, chosen)}<p>${view.tenKelvin}</p>${[...view.gaps, ...view.cells].map((words) => html`<p>${words}</p>`)}
${writeWhatIfs(input, made)}${writeModels(view, first)}`;
  const notes = [
    writeNote('Cautions', html`${lifeCautions.map((words) => html`<p>${words}</p>`)}`),
    writeNote(
      'Taken for granted',
      html`${[...view.notes, ...made.assumed, ...made.leftOut.map(({ why }) => why)].map((words) => html`<p>${words}</p>`)}`,
    ),
    writeNote(
      'Draws',
      html`<p>${String(forecast.draws)} packs drawn at random, seed ${String(forecast.seed)}.</p>`,
    ),
  ];
  return writeSheet(work, notes, 'What the forecast stands on');
}

function writeYears(view: LifeView, chosen: string | null): Markup {
  return writeTable(
    'Years to 80 % by set-up',
    'Ranges hold nine draws in ten.',
    [
      { title: 'set-up' },
      { title: 'to 80 %', isFigure: true },
      { title: 'times as long', isFigure: true },
      { title: 'lasts longest', isFigure: true },
      { title: 'until then', isFigure: true },
    ],
    view.rows.map(({ setup, name, years, ratio, chance, delivered }) => ({
      isPick: setup === chosen,
      cells: [name, years, ratio === '' ? '1' : ratio, chance, delivered],
    })),
  );
}

function writeWhatIfs(input: DossierInput, { forecast }: BuildForecast): Markup {
  const setup = input.assessment.verdict.setup ?? forecast.setups[0]?.setup ?? '';
  const asked = askWhatIfs(input.build, input.assessment, setup);
  if (!asked.ok) return html``;
  const table = presentWhatIfs(asked.value);
  const hasCost = table.rows.some(({ costPerYear }) => costPerYear !== '');
  return writeTable(
    'What other habits would do',
    `What if, in ${setupName(input, setup)}. ${table.answer}`,
    [
      { title: 'change' },
      { title: 'to 80 %', isFigure: true },
      { title: 'times as long', isFigure: true },
      { title: 'until then', isFigure: true },
      ...(hasCost ? [{ title: 'cost', isFigure: true }] : []),
    ],
    table.rows.map(({ title, years, ratio, delivered, costPerYear }) => ({
      cells: [title, years, ratio, delivered, ...(hasCost ? [costPerYear] : [])],
    })),
  );
}

function writeModels(view: LifeView, first: string): Markup {
  return html`<p>${view.whyDiffer} ${view.chemistry}</p>${writeTable(
    'Years by model',
    `Median years to 80 % in ${first}, model by model.`,
    [
      { title: 'model' },
      { title: 'years', isFigure: true },
      { title: 'how firm its figures are' },
      { title: 'source' },
    ],
    view.models.map(({ title, figure, standing, cautions, source }) => ({
      cells: [title, figure, cite([`${standing}.`, ...cautions].join(' ')), cite(source)],
    })),
  )}`;
}
