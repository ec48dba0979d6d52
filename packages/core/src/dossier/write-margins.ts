import { type Margin, presentMargins } from '../compare/index.js';
import { drawIntervals } from '../drawing/index.js';
import { formatCelsius, formatCount, formatList } from '../measure/index.js';
import { type DossierInput, probeName, setupName } from './dossier-input.js';
import { html, type Markup } from './markup.js';
import { type Row, writeDrawing, writeLevel, writeNote, writeSheet, writeTable } from './parts.js';
import {
  atLeastWords,
  ceilingWords,
  expectedWords,
  judgeMargin,
  limitPlace,
  limitText,
  marginWords,
  typedNumber,
} from './words.js';

/** Is it cool enough on the worst day? Every state of the subject set-up against every limit, then the other set-ups. */
export function writeMargins(input: DossierInput): Markup {
  const { build, assessment, subject } = input;
  const mine = assessment.compare.margins.filter(({ setup }) => setup === subject);
  const view = subject === null ? null : presentMargins(build, assessment.compare.margins, subject);
  if (subject === null || build.designAmbient === undefined || view === null) {
    const why =
      build.designAmbient === undefined ? 'no design ambient is set' : 'no set-up has a counted run';
    return html`<p class="lead">No margin can be named: ${why}. The limits are recorded all the same.</p>${writeLimits(input)}`;
  }
  const name = setupName(input, subject);
  const ambient = formatCelsius(build.designAmbient.ambient_C);
  const { source } = build.designAmbient;
  const work = html`<p class="lead">With ${name} at an ambient of ${ambient}${source === undefined ? '' : ` (${source})`}: ${tellStates(mine)} The dot is the expected temperature, the thick stroke ± u, the thin one 95 %.</p>
<figure>${writeDrawing((width_px) => drawIntervals(view, width_px))}</figure>
${writeTable(
  `Margins of ${name} against every limit`,
  html`Every limit, with its source. <i>At least</i> and <i>highest ambient</i> have 95 % coverage.`,
  [
    { title: 'state' },
    { title: 'limit and its source' },
    { title: 'expected', isFigure: true },
    { title: 'margin', isFigure: true },
    { title: 'at least', isFigure: true },
    { title: 'highest ambient', isFigure: true },
    { title: 'level' },
  ],
  mine.map((margin) => marginRow(input, margin)),
)}${writeOthers(input, subject)}`;
  return writeSheet(
    work,
    [howToRead(input), writeNote('What these margins rest on', html`<p>${evidenceWords(input, mine)}</p>`)],
    'How to read the margins',
  );
}

/** What the stop limits at the cells say, state by state; a state of which nothing is known is named as such. */
function tellStates(margins: readonly Margin[]): string {
  const stops = margins.filter(({ limit }) => limit.where === 'cell' && limit.level === 'stop');
  const titles = (is: (margin: Margin) => boolean) =>
    [...new Set(stops.filter(is).map(({ title }) => title))].map((title) => `“${title}”`);
  const isPassed = ({ level, margin_K }: Margin) => level === 'stop' && (margin_K ?? 0) < 0;
  const parts = [
    { titles: titles(isPassed), one: 'passes its stop limit', many: 'pass their stop limits' },
    {
      titles: titles((margin) => margin.level === 'stop' && !isPassed(margin)),
      one: 'may pass its stop limit',
      many: 'may pass their stop limits',
    },
    {
      titles: titles(({ level }) => level === 'look'),
      one: 'holds, with less than 2 K left',
      many: 'hold, with less than 2 K left',
    },
    { titles: titles(({ level }) => level === 'holds'), one: 'holds', many: 'hold' },
    { titles: titles(({ level }) => level === 'unknown'), one: 'is not known', many: 'are not known' },
  ].filter((part) => part.titles.length > 0);
  if (parts.length === 0) return 'no stop limit is set for the cells.';
  return `at the cells ${parts.map((part) => `${formatList(part.titles)} ${part.titles.length > 1 ? part.many : part.one}`).join('; ')}.`;
}

function marginRow(input: DossierInput, margin: Margin): Row {
  const { limit, title, probe, missing } = margin;
  const { look, word } = judgeMargin(margin);
  const state = html`${title}${probe !== null && html`<small>${probeName(input, probe)}</small>`}`;
  const held = html`${limitText(input.build, limit)}<small>${limit.source}</small>`;
  if (margin.expected_C === null || margin.level === 'unknown')
    return { cells: [state, held, html`${writeLevel(look, word)}<small>${missing ?? ''}</small>`] };
  return {
    cells: [
      state,
      held,
      expectedWords(margin),
      marginWords(margin),
      atLeastWords(margin),
      ceilingWords(margin),
      writeLevel(look, word),
    ],
  };
}

function howToRead({ build }: DossierInput): Markup {
  const preferred = build.limits
    .filter(({ where, level }) => where === 'cell' && level === 'prefer')
    .map(({ limit_C }) => limit_C);
  const prefer =
    preferred.length === 0
      ? ''
      : html` At the cells <i>prefer</i> is below ${typedNumber(Math.min(...preferred))} °C; <i>wear</i> is above it and within the stop limit: the cells age faster.`;
  return writeNote(
    'How to read it',
    html`<p><i>Holds</i>: at least 2 K are left with 95 % coverage. <i>Look</i>: less than that. <i>Stop</i>: the limit is passed, or may be.${prefer}</p><p>≥ and ≤ mark a bound only: the charge’s own heat was not measured in that state and comes on top.</p>`,
  );
}

function evidenceWords(input: DossierInput, margins: readonly Margin[]): string {
  const runs = [...new Set(margins.flatMap(({ evidence }) => evidence))].sort();
  if (runs.length === 0) return 'No run.';
  const named = runs.map((id) => input.build.runs.find((run) => run.id === id)?.name ?? id);
  return `${formatCount(runs.length, 'run')}: ${formatList(named.map((name) => name.split(',')[0] ?? name))}. The doubt covers one further mounting and the probe check.`;
}

/** The stop limit with the least room at the cells, state by state, for every measured set-up. */
function writeOthers(input: DossierInput, subject: string): Markup {
  const { margins } = input.assessment.compare;
  const setups = [...new Set(margins.map(({ setup }) => setup))];
  const stops = margins.filter(
    ({ limit, use }) => limit.where === 'cell' && limit.level === 'stop' && use !== 'stored',
  );
  const uses = [...new Map(stops.map(({ use, title }) => [use, title]))];
  if (setups.length < 2 || uses.length === 0) return html``;
  return writeTable(
    'Margins of every set-up at the cells',
    'Every set-up, hottest cell, the stop limit with the least room: expected, and the margin at least left with 95 % coverage.',
    [{ title: 'set-up' }, ...uses.map(([, title]) => ({ title }))],
    setups.map((setup) => ({
      isPick: setup === subject,
      cells: [
        setupName(input, setup),
        ...uses.map(([use]) =>
          tightestCell(stops.filter((margin) => margin.setup === setup && margin.use === use)),
        ),
      ],
    })),
  );
}

function tightestCell(margins: readonly Margin[]): Markup {
  const [first] = margins;
  if (first === undefined) return html``;
  const tight = margins.reduce(
    (least, margin) =>
      (margin.atLeast_K ?? margin.margin_K ?? Infinity) < (least.atLeast_K ?? least.margin_K ?? Infinity)
        ? margin
        : least,
    first,
  );
  const { look, word } = judgeMargin(tight);
  if (tight.level === 'unknown') return html`${writeLevel(look, word)}<small>not measured</small>`;
  const left = tight.lowerBound ? `margin ${marginWords(tight)}` : `at least ${atLeastWords(tight)}`;
  return html`${writeLevel(look, expectedWords(tight))}<small>${left}</small>`;
}

function writeLimits({ build }: DossierInput): Markup {
  if (build.limits.length === 0) return html`<p>No limit is recorded.</p>`;
  return writeTable(
    'The limits with their sources',
    '',
    [
      { title: 'limit' },
      { title: 'state' },
      { title: 'at', isFigure: true },
      { title: 'level' },
      { title: 'source' },
    ],
    build.limits.map((limit) => ({
      cells: [
        limitPlace(build, limit),
        limit.state,
        `${typedNumber(limit.limit_C)} °C`,
        limit.level,
        limit.source,
      ],
    })),
  );
}
