import { formatNumber } from '../measure/index.js';
import type { Probe } from '../records/index.js';
import type { BudgetLine, ProbeBudget } from './budget.js';
import { usualAttachment_K } from './correct-probes.js';
import type { Drift } from './drift.js';

/** A budget as rows of words: what each line is, and what it puts on one reading and on the two kinds of difference. */
export interface BudgetView {
  readonly rows: readonly BudgetRow[];
  readonly totals: readonly BudgetRow[];
}

export interface BudgetRow {
  readonly key: string;
  readonly what: string;
  readonly reading: string;
  readonly sameProbe: string;
  readonly otherProbe: string;
}

const lineWords: Readonly<Record<BudgetLine['name'], string>> = {
  maker: 'never checked: the maker’s word, or the class of the sensor',
  gain: 'gain, which no check tells',
  baths: 'temperature of the baths',
  'check-readings': 'readings in the baths',
  resolution: 'smallest step of a reading',
  drift: 'drift',
  attachment: 'how it is held',
  'cold-junction': 'temperature of the cold junction',
};

const nothing = '–';

/** Doubts in kelvins to the thousandth: what cancels would otherwise look like what was never there. */
function doubt(u_K: number | null): string {
  if (u_K === null || u_K === 0) return nothing;
  return u_K < 0.0005 ? 'under 0.001' : formatNumber(u_K, 3);
}

/** The budget of one probe in words and figures, standard uncertainties in K. */
export function presentBudget(budget: ProbeBudget, probe: Probe, drifts: readonly Drift[]): BudgetView {
  const rows = budget.lines.map((line) => ({
    key: line.name,
    what: whatOf(line, probe, drifts),
    reading: doubt(line.u_K),
    sameProbe: doubt(line.sameProbe_u_K),
    otherProbe: doubt(line.otherProbe_u_K),
  }));
  const totals = [budget.total, budget.sameProbe, budget.otherProbe];
  const row = (key: string, what: string, of: (total: (typeof totals)[number]) => string): BudgetRow => {
    const [reading, sameProbe, otherProbe] = totals.map((total) => (total === null ? nothing : of(total)));
    return { key, what, reading: reading ?? '', sameProbe: sameProbe ?? '', otherProbe: otherProbe ?? '' };
  };
  return {
    rows,
    totals: [
      row('u', 'together, u', (total) => doubt(total?.u_K ?? 0)),
      row('coverage', 'factor for 95 %', (total) => formatNumber(total?.coverage ?? 0, 2)),
      row('expanded', 'within, 95 %', (total) => `± ${formatNumber(total?.expanded_K ?? 0, 2)} K`),
    ],
  };
}

function whatOf(line: BudgetLine, probe: Probe, drifts: readonly Drift[]): string {
  const words = lineWords[line.name];
  if (line.name === 'drift')
    return `${words}: ${driftWords(drifts.findLast((one) => one.probe === probe.id))}`;
  if (line.name === 'attachment' && probe.attachment_u_K === undefined && line.u_K > 0)
    return `${words}: ${formatNumber(usualAttachment_K, 1)} K assumed, not stated`;
  if (line.name === 'resolution' && probe.resolution_K === undefined) return `${words}: not stated`;
  return words;
}

/** What is known of a probe's drift, in a few words. */
function driftWords(drift: Drift | undefined): string {
  if (drift === undefined) return 'not known, it takes two checks';
  const size = `${formatNumber(Math.abs(drift.change_K), 2)} K between two checks`;
  return drift.isShown ? `${size}, more than their doubt` : `${size}, within their doubt`;
}
