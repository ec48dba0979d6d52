import { drawPlan, drawSection, drawTemperatureScale, temperatureAnchors } from '../drawing/index.js';
import { formatCelsius, formatList } from '../measure/index.js';
import type { Build } from '../records/index.js';
import {
  everyContest,
  presentPlan,
  presentSection,
  readingsAtDesignAmbient,
  type SectionReading,
} from '../verdict/index.js';
import { type DossierInput, setupName } from './dossier-input.js';
import { type Content, html, type Markup } from './markup.js';
import {
  writeByWidth,
  writeDrawing,
  writeMarginDrawing,
  writeNote,
  writeSheet,
  writeTitleBlock,
} from './parts.js';
import { typedNumber } from './words.js';

/** The device cut through at its hottest zone, with what each probe is expected to read on the worst day. */
export function writeSection(input: DossierInput, contents: Markup): Markup {
  const { build, assessment, subject } = input;
  const listed = writeNote('Contents', contents);
  if (subject === null)
    return writeSheet(html`<p>No section can be drawn: no set-up is described.</p>`, [listed], 'Contents');
  const { corrections } = assessment.probes;
  const readings = readingsAtDesignAmbient(
    build,
    corrections,
    everyContest(assessment.compare),
    assessment.compare.margins,
    subject,
  );
  const { section, missing } = presentSection(build, subject, readings);
  if (section === null) {
    const words = html`<p>No section of ${setupName(input, subject)} can be drawn. Missing: ${formatList(missing)}.</p>`;
    return writeSheet(words, [listed], 'Contents');
  }
  const { view, layersWords, cut } = section;
  const figure = html`<figure>${writeDrawing((width_px) => drawSection(view, width_px))}
<p class="small vx-n">${layersWords}</p>
${writeTitleBlock([
  ['Section', cut],
  ['Vertical stretch', writeByWidth((width_px) => `${typedNumber(drawSection(view, width_px).stretch)} : 1`)],
  ['Grid', writeByWidth((width_px) => `${drawSection(view, width_px).grid_mm} mm`)],
  ['Set-up', `${setupName(input, subject)}${assessment.verdict.setup === subject ? '' : ', not chosen'}`],
  ...stateRows(build, readings),
])}</figure>`;
  return writeSheet(
    figure,
    [...planNote(build, subject, readings), scaleNote(build), listed],
    'Plan, temperature scale and contents',
  );
}

function stateRows(build: Build, readings: readonly SectionReading[]): [string, Content][] {
  if (readings.length === 0 || build.designAmbient === undefined)
    return [['Temperatures', 'none expected yet']];
  return [
    ['State', 'full load, expected'],
    ['Ambient', formatCelsius(build.designAmbient.ambient_C)],
  ];
}

function planNote(build: Build, subject: string, readings: readonly SectionReading[]): Markup[] {
  const { plan } = presentPlan(build, subject, readings);
  return plan === null
    ? []
    : [
        writeNote(
          'Plan, pack side',
          writeMarginDrawing((width_px) => drawPlan(plan, width_px)),
        ),
      ];
}

function scaleNote(build: Build): Markup {
  const limits = build.limits
    .filter(({ where, level }) => where === 'cell' && level === 'stop')
    .map(({ limit_C, state }) => ({ level_C: limit_C, words: state === 'any' ? 'limit' : state }));
  const ambient_C = build.designAmbient?.ambient_C;
  const marks = ambient_C === undefined ? limits : [{ level_C: ambient_C, words: 'ambient' }, ...limits];
  const drawing = writeMarginDrawing((width_px) =>
    drawTemperatureScale(temperatureAnchors(build), marks, width_px),
  );
  return writeNote(
    'Temperature, °C',
    html`${drawing}<p>One scale throughout. It begins at the design ambient; straw turns to ochre at the lowest limit.</p>`,
  );
}
