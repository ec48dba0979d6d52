import { formatCount, formatEstimate, formatKelvin, formatList, formatNumber } from '../measure/index.js';
import type { PerWatt } from './compare-per-watt.js';
import type { Contest, Difference } from './contest.js';
import { planPower, type Resolution } from './plan-repeats.js';
import type { Rank } from './rank-setups.js';

/** How a set-up is called. */
type NameOf = (setup: string) => string;

/** Which of a pair is shown to be no worse than the other, in the words of a table's cell. */
export function noWorseWords(
  { setup, other, noWorse }: Pick<Difference, 'setup' | 'other' | 'noWorse'>,
  nameOf: NameOf,
): string {
  const [first, second] = [noWorse.setup.finding, noWorse.other.finding];
  if (first === 'no-verdict') return 'none';
  if (first === 'shown' && second === 'shown') return 'both: alike';
  if (first === 'shown') return nameOf(setup);
  return second === 'shown' ? nameOf(other) : 'not shown';
}

/** A set-up's rise per watt, with its doubt. */
export function perWattWords({ load_W, contest }: PerWatt, setup: string): string {
  const rise = contest.setups.find((each) => each.setup === setup)?.rise_K;
  if (rise === undefined) return '';
  return formatEstimate({ value: rise.value / load_W, u: rise.u / load_W }, 'K/W');
}

/** A chance without pretended certainty: "99 %", "under 1 %", "over 99 %". */
export function chanceOfCoolestWords({ coolest }: Pick<Rank, 'coolest'>): string {
  if (coolest < 0.01) return 'under 1 %';
  return coolest > 0.99 ? 'over 99 %' : `${formatNumber(100 * coolest, 0)} %`;
}

/** What was done about sessions, in a sentence; null where a note says it or there is only one. */
export function sessionWords({ sessions, spread }: Pick<Contest, 'sessions' | 'spread'>): string | null {
  if (sessions === 'random' && spread.session_K !== null)
    return `Between sessions: standard deviation ${formatKelvin(spread.session_K, Math.max(spread.session_K / 5, 0.05))}, which does not count against set-ups that shared them.`;
  return sessions === 'shifts' ? 'Each session’s shift is taken out.' : null;
}

/** How many runs resolve the stated difference, in a sentence or two. */
export function resolutionWords(resolution: Resolution | null, difference_K: number, nameOf: NameOf): string {
  const what = `A true difference of ${formatKelvin(difference_K, difference_K / 10)} between any two set-ups`;
  if (resolution === null) return `${what} is out of reach: even 60 runs of each would seldom show it.`;
  const { each, add, setups, run_K, assumed } = resolution;
  const counts = Object.values(add);
  const alike = counts.length === setups && new Set(counts).size === 1;
  const missing = alike
    ? [`${counts[0]} more of each`]
    : Object.entries(add).map(([setup, count]) => `${count} more of ${nameOf(setup)}`);
  const basis = `At a spread of ${formatKelvin(run_K, run_K / 10)} from run to run${assumed ? ', assumed' : ''}.`;
  return `${what} is shown with a chance of ${formatNumber(100 * planPower, 0)} % by ${formatCount(each, 'run')} of each, re-mounted: ${
    missing.length === 0 ? 'you have them' : formatList(missing)
  }. ${basis}`;
}
