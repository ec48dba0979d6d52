import type { HeatReport } from '../heat/index.js';
import { BadInputError, refused } from '../measure/index.js';
import type { Build } from '../records/index.js';
import type { LogBytes } from '../runs/index.js';
import { type Assessment, forecastBuild } from '../verdict/index.js';
import { type DossierInput, type DossierSection, findSubject } from './dossier-input.js';
import { asMarkup, html, type Markup } from './markup.js';
import { pageStyle } from './page-style.js';
import { printStyle } from './print-style.js';
import { writeReferences } from './references.js';
import { writeCautions } from './write-cautions.js';
import { writeComparison } from './write-comparison.js';
import { writeGrounds } from './write-grounds.js';
import { writeHeat } from './write-heat.js';
import { writeLife } from './write-life.js';
import { writeMargins } from './write-margins.js';
import { writeMethods } from './write-methods.js';
import { writeAnswer, writeContents, writeHead } from './write-opening.js';
import { writeProbes } from './write-probes.js';
import { writeRuns } from './write-runs.js';
import { writeSection } from './write-section.js';
import { writeSetups } from './write-setups.js';
import { writeWords } from './write-words.js';

/**
 * The publication of a build: one HTML file with its style and drawings inside. No script, nothing fetched; it prints on A4
 * and Letter. It only tells what `assessment` holds; the logs are read again for the charts alone.
 *
 * @param assessment of this very build, from `assessBuild`
 * @param logOf the bytes of a log by file name; a run whose log is not at hand is told without its chart
 * @param heat the calibrated model with its fields; without it the dossier has no section on heat
 */
export function renderDossier(
  build: Build,
  assessment: Assessment,
  logOf: (file: string) => LogBytes | undefined,
  heat?: HeatReport,
): string {
  const input: DossierInput = {
    build,
    assessment,
    logOf,
    subject: findSubject(build, assessment),
    forecast: forecastOf(build, assessment, heat),
    ...(heat === undefined ? {} : { heat }),
  };
  const rest = writeSections(input);
  const name = `${build.name}${build.invented === true ? ', invented example' : ''}`;
  const page = html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${name} · Soakbench dossier</title>
<style>${asMarkup(pageStyle)}${asMarkup(printStyle(`${name} · Soakbench dossier`))}</style>
</head>
<body>
<div class="page">
${writeHead(input)}<main>
${writeAnswer(input)}${writeNumbered([{ id: 'section', title: 'The device, cut through', body: writeSection(input, writeContents(rest, 2)) }, ...rest])}</main>
<footer><span>${name}. Soakbench dossier.</span><span>± is one standard uncertainty u. In plots the thick stroke is ± u, the thin one 95 %.</span><span>The same records and logs give the same numbers.</span></footer>
</div>
</body>
</html>
`;
  return page.markup;
}

/** A duty that contradicts itself spoils the forecast and not the dossier. */
function forecastOf(
  build: Build,
  assessment: Assessment,
  heat: HeatReport | undefined,
): DossierInput['forecast'] {
  try {
    return forecastBuild(build, assessment, heat === undefined ? {} : { heat: heat.assessment });
  } catch (error) {
    if (!(error instanceof BadInputError)) throw error;
    return refused({ kind: 'odd-figure', remedy: error.message });
  }
}

function writeSections(input: DossierInput): DossierSection[] {
  return [
    { id: 'margins', title: 'Is it cool enough on the worst day?', body: writeMargins(input) },
    { id: 'compare', title: 'Is the better shield really better?', body: writeComparison(input) },
    { id: 'runs', title: 'What did the bench measure?', body: writeRuns(input) },
    { id: 'probes', title: 'Can the readings be trusted?', body: writeProbes(input) },
    ...(input.heat === undefined
      ? []
      : [
          {
            id: 'heat',
            title: 'What would an untried set-up do?',
            body: writeHeat(input, input.heat),
          },
        ]),
    { id: 'life', title: 'What does the heat cost?', body: writeLife(input) },
    { id: 'grounds', title: 'What it rests on, and what is open', body: writeGrounds(input) },
    { id: 'methods', title: 'How it was computed', body: writeMethods() },
    { id: 'references', title: 'References', body: writeReferences() },
    { id: 'cautions', title: 'Cautions', body: writeCautions() },
    { id: 'setups', title: 'What was fitted', body: writeSetups(input) },
    { id: 'words', title: 'Words and signs', body: writeWords() },
  ];
}

function writeNumbered(sections: readonly DossierSection[]): Markup {
  return html`${sections.map(
    ({ id, title, body }, index) => html`<section class="part" id="${id}" aria-labelledby="${id}-title">
<h2 id="${id}-title"><span class="no">${index + 1}</span> ${title}</h2>
${body}
</section>
`,
  )}`;
}
