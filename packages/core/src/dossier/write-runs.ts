import { formatCount, formatEstimate } from '../measure/index.js';
import type { Run } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import { type DossierInput, probeName, runAnchor, runName, setupName } from './dossier-input.js';
import { html, type Markup } from './markup.js';
import { type Column, type Row, writeTable } from './parts.js';
import { nothing } from './words.js';
import { writeSentence } from './write-opening.js';
import { judgeRun, writeRun } from './write-run.js';

/** What did the bench measure? A ledger of all runs, then every one with its chart and what is known of it. */
export function writeRuns(input: DossierInput): Markup {
  const { answer, condition } = input.assessment.runs;
  const lead = html`<p class="lead">${writeSentence(answer)}</p>${input.build.runs.length > 0 && html`<p class="lead small">${condition}</p>`}`;
  return html`${lead}${writeLedger(input)}${input.build.runs.map((run) => writeRun(input, run))}`;
}

function writeLedger(input: DossierInput): Markup {
  const deciding = input.assessment.compare.main?.quantity.probe;
  const columns: Column[] = [
    { title: 'run' },
    { title: 'set-up' },
    { title: 'session, mounting' },
    {
      title: deciding === undefined ? 'rise under load' : `rise at ${probeName(input, deciding)} under load`,
      isFigure: true,
    },
    { title: 'state' },
  ];
  return writeTable(
    'All runs',
    '',
    columns,
    input.build.runs.map((run) => ledgerRow(input, run, deciding)),
  );
}

function ledgerRow(input: DossierInput, run: Run, deciding: string | undefined): Row {
  const result = input.assessment.runs.runs.find((each) => each.run === run.id);
  const flags = result?.flags.filter(({ level }) => level !== 'holds').length ?? 0;
  return {
    cells: [
      html`<a href="#${runAnchor(run.id)}">${runName(run)}</a>`,
      setupName(input, run.setup),
      `${run.session}, ${run.mounting}`,
      riseOf(result, deciding),
      html`<span class="nb">${judgeRun(run, result)}${flags > 0 && `, ${formatCount(flags, 'flag')}`}</span>`,
    ],
  };
}

function riseOf(result: RunResult | undefined, probe: string | undefined): string {
  const plateau = result?.plateaus.find((each) => each.phase === 'load' && each.probe === probe)?.result;
  return plateau?.ok
    ? `${plateau.value.reached ? '' : '→ '}${formatEstimate(plateau.value.rise_K, 'K')}`
    : nothing;
}
