import { secondsFromHours } from '../measure/index.js';
import type { Plateau } from './run-result.js';

/** A rule of the kind standards give: settled is what has changed by at most so much over so long. */
export interface StopRule {
  readonly id: string;
  readonly words: string;
  /** How long the change is watched, s; 0 for the slope itself. */
  readonly over_s: number;
  /** Largest change over that time, K; for a slope K per hour. */
  readonly most: number;
  readonly source: string;
}

/** The rules that are met with most often, slackest last. Each leaves what it leaves by the device's time constant, not by its number. @source [IEC-60598-1], [IEC-60034-1], [IEC-61810-7] */
export const stopRules: readonly StopRule[] = [
  {
    id: 'slope-1',
    words: 'slope of 1 K per hour',
    over_s: 0,
    most: 1,
    source: 'IEC 60598-1, read second hand',
  },
  {
    id: 'half-hour',
    words: '1 K within 30 min',
    over_s: 1800,
    most: 1,
    source: 'common practice, no source',
  },
  {
    id: 'slope-2',
    words: 'slope of 2 K per hour',
    over_s: 0,
    most: 2,
    source: 'IEC 60034-1, read second hand',
  },
  {
    id: 'three-readings',
    words: 'three readings 5 min apart within 1 K',
    over_s: 600,
    most: 1,
    source: 'IEC 61810-7, read second hand',
  },
];

/** When a rule would have ended the soak, and what it would have missed. */
export interface StopRuleOutcome {
  readonly rule: StopRule;
  /** From the beginning of the phase, s; null where the phase ended before the rule was met. */
  readonly after_s: number | null;
  /** Plateau minus the level at that moment, K. */
  readonly missing_K: number | null;
}

/**
 * What each stop rule would have left of this plateau, by the curve that was fitted to it.
 *
 * For one exponential the distance still to go when the slope has fallen to q is q τ, whatever the step: the rule fixes a slope,
 * the device its time constant, and what is missed is their product.
 *
 * @source derived here: the fitted curve and its difference over the rule's time
 */
export function judgeStopRules(
  plateau: Pick<Plateau, 'timeConstants' | 'amplitudes_K' | 'from_s' | 'to_s'>,
): StopRuleOutcome[] {
  const terms = plateau.timeConstants.map(({ tau_s }, i) => ({
    tau_s,
    amplitude_K: plateau.amplitudes_K[i] as number,
  }));
  const toGo_K = (t_s: number) =>
    terms.reduce((sum, { tau_s, amplitude_K }) => sum + amplitude_K * Math.exp(-t_s / tau_s), 0);
  const slope_K_per_h = (t_s: number) =>
    secondsFromHours(
      terms.reduce((sum, { tau_s, amplitude_K }) => sum + (amplitude_K / tau_s) * Math.exp(-t_s / tau_s), 0),
    );
  const span_s = plateau.to_s - plateau.from_s;
  return stopRules.map((rule) => {
    const isMet = (t_s: number) =>
      Math.abs(rule.over_s === 0 ? slope_K_per_h(t_s) : toGo_K(t_s - rule.over_s) - toGo_K(t_s)) <= rule.most;
    const after_s = firstMet(isMet, rule.over_s, span_s);
    return { rule, after_s, missing_K: after_s === null ? null : toGo_K(after_s) };
  });
}

/** The first moment a rule is met, to a tenth of a second: steps of half a minute, then halving. */
function firstMet(isMet: (t_s: number) => boolean, from_s: number, to_s: number): number | null {
  const step_s = 30;
  if (from_s > to_s) return null;
  if (isMet(from_s)) return from_s;
  for (let t = from_s; t < to_s; t += step_s) {
    let [low, high] = [t, Math.min(t + step_s, to_s)];
    if (!isMet(high)) continue;
    while (high - low > 0.1) {
      const middle = (low + high) / 2;
      if (isMet(middle)) high = middle;
      else low = middle;
    }
    return high;
  }
  return null;
}
