import {
  dofNumber,
  dofRecord,
  type Estimate,
  effectiveDof,
  formatKelvin,
  formatNumber,
} from '../measure/index.js';
import { adjustHolm, median, tCdf, tQuantile } from '../numerics/index.js';
import { chooseModel } from './choose-model.js';
import type { Contest, Difference, Finding, NoWorse, Quantity, SetupRise } from './contest.js';
import { baselineFamily, type Family, pairFamily } from './families.js';
import { assumeSpread, fitSetups, type SetupFit } from './fit-setups.js';
import { mountingOf, type Observation } from './observation.js';

/**
 * Run-to-run spread where no set-up was measured twice.
 * @assumed 0.6 K: opening the shell, re-seating pack and probes; common practice, no source. Replaced by the build's own
 *   spread as soon as one set-up has two mountings
 */
export const assumedRunToRun_K = 0.6;

/**
 * A difference too small to matter, where the build states none.
 * @assumed half of the 1 K that shields are compared for
 */
export const defaultNoWorse_K = 0.5;

/** Chance of calling any difference shown where there is none, for a whole family of comparisons. */
const falseAlarm = 0.05;

export interface CompareOptions {
  /** What "no worse" allows, K. */
  readonly noWorse_K?: number | undefined;
  /** Standard uncertainty of the gain of the probe that read all rises, 1/1; none without. */
  readonly gain_u?: number;
  /** What a set-up is called in notes. */
  readonly nameOf?: (setup: string) => string;
}

/**
 * Compares all set-ups in one quantity. The run is the unit: thousands of samples of one run are one observation.
 *
 * Against the baseline the intervals hold together as a family (Dunnett), for all pairs as another (Tukey-Kramer). Each
 * comparison has its own degrees of freedom. With sessions or unequal numbers of runs the second is slightly wide for some
 * pairs; the first follows the correlations by one common factor, which is exact without sessions and in complete plans.
 *
 * One spread serves all set-ups. Where one scatters more than the others, `compareUnequal` is the view without that assumption.
 *
 * With one mounting per set-up there is no finding at all: the spread is then an assumption, and what could have been seen is
 * named.
 *
 * @param observations one per counted run; at least one
 * @param baseline the set-up the others are held against; the first one where it was not measured
 * @source [DUNNETT-1955]; [KRAMER-1956] for unequal numbers; [JCGM-100] 4.2 for the run as the unit; [SCHUIRMANN-87] for
 *   "no worse" and, both ways, for equivalence
 */
export function compareSetups(
  quantity: Quantity,
  observations: readonly Observation[],
  baseline: string,
  { noWorse_K = defaultNoWorse_K, gain_u = 0, nameOf = (setup) => setup }: CompareOptions = {},
): Contest {
  const setups = [...new Set(observations.map((run) => run.setup))];
  const base = setups.includes(baseline) ? baseline : (setups[0] as string);
  const order = [base, ...setups.filter((setup) => setup !== base)];
  const model = chooseModel(observations, order, nameOf);
  const found = fitSetups(observations, order, model);
  const fit = withGain(found ?? assumeSpread(observations, order, assumedRunToRun_K), gain_u);
  const mountings = order.map(
    (setup) => new Set(observations.filter((run) => run.setup === setup).map(mountingOf)).size,
  );
  // A pair of single mountings says nothing of its own, whatever the spread of the others.
  const isDecided = (i: number, j: number) =>
    found !== null && (mountings[i] as number) + (mountings[j] as number) > 2;
  const judge = (family: Family) => judgeFamily(fit, family, isDecided, noWorse_K);
  const pairs = pairFamily(fit);
  return {
    quantity,
    baseline: base,
    setups: order.map((setup, i) => riseOf(setup, fit.meanOf(i), observations)),
    covariance_K2: order.map((_, i) => [
      ...fit.covariance_K2.slice(i * order.length, (i + 1) * order.length),
    ]),
    toBaseline: judge(baselineFamily(fit)),
    pairs: judge(pairs),
    runToRun: {
      sd_K: Math.hypot(fit.spread.mounting_K, fit.spread.repeat_K ?? 0),
      dof: dofRecord(fit.dof),
      assumed: found === null,
    },
    blocks:
      found !== null && (model.sessions === 'random' || model.sessions === 'shifts') ? 'session' : 'none',
    sessions: found === null && model.sessions !== 'single' ? 'left-in' : model.sessions,
    spread: fit.spread,
    gain_u,
    noWorse_K,
    canShow_K: pairs.length === 0 ? null : median(pairs.map(({ point, difference }) => point * difference.u)),
    notes: tellNotes(),
  };

  function tellNotes(): string[] {
    const notes = found === null ? [] : [...model.notes];
    if (base !== baseline && order.length > 1)
      notes.push(
        `${nameOf(baseline)}, the baseline, was not measured in this quantity; ${nameOf(base)} stands in for it.`,
      );
    if (found === null && order.length > 1) {
      notes.push(
        model.hasRepeats
          ? 'The spread between mountings is assumed: there are not enough mountings to estimate it, and runs of one mounting cannot tell a shield from the way the pack was put in.'
          : 'The spread from run to run is assumed: there are not enough runs to estimate it.',
      );
    }
    order.forEach((setup, i) => {
      if (found !== null && mountings[i] === 1)
        notes.push(`${nameOf(setup)} rests on one mounting; its spread is taken to be that of the others.`);
    });
    const largest = pairs.reduce((most, { difference }) => Math.max(most, Math.abs(difference.value)), 0);
    if (gain_u >= tellingGain && pairs.length > 0)
      notes.push(
        `No check tells the probe’s gain, in doubt by ${formatNumber(100 * gain_u, 1)} %: that is ${formatKelvin(gain_u * largest, gain_u * largest)} of the largest difference, and part of its uncertainty. Two baths far apart would take it out.`,
      );
    if (fit.spread.session_K === 0)
      notes.push('Sessions differ no more than mountings do: no spread between them was found.');
    return notes;
  }
}

/** A doubt of the gain worth a sentence. @assumed two baths leave a tenth of it */
const tellingGain = 0.005;

/**
 * The fit with the gain's doubt in each difference: it stretches all of them alike and turns none round.
 * @source [JCGM-100] Eq. 10 for the product of difference and gain, G.2b for the degrees of freedom
 */
function withGain(fit: SetupFit, gain_u: number): SetupFit {
  if (gain_u === 0) return fit;
  return {
    ...fit,
    differenceOf(from, to) {
      const { value, u, dof } = fit.differenceOf(from, to);
      const parts = [
        { u, dof },
        { u: gain_u * value, dof: null },
      ];
      return {
        value,
        u: Math.hypot(u, gain_u * value),
        dof: dof === null ? null : dofRecord(Number(effectiveDof(parts).toPrecision(9))),
      };
    },
  };
}

function riseOf(setup: string, rise_K: Estimate, observations: readonly Observation[]): SetupRise {
  const half = tQuantile(1 - falseAlarm / 2, dofNumber(rise_K)) * rise_K.u;
  return {
    setup,
    rise_K,
    interval95_K: [rise_K.value - half, rise_K.value + half],
    runs: observations.filter((run) => run.setup === setup).map(({ setup: _, ...run }) => run),
  };
}

/** Findings of a family: differences by its simultaneous points, "no worse" by Holm's step-down over its pairs. */
function judgeFamily(
  fit: SetupFit,
  family: Family,
  isDecided: (i: number, j: number) => boolean,
  noWorse_K: number,
): Difference[] {
  const oneSided = family.flatMap(({ difference: { value, u, dof } }) => [
    tCdf(-(noWorse_K + value) / u, dof ?? Number.POSITIVE_INFINITY),
    tCdf(-(noWorse_K - value) / u, dof ?? Number.POSITIVE_INFINITY),
  ]);
  // Of a pair's two claims one is true at least, so that no more than one per pair can be a false alarm.
  const raised = adjustHolm(oneSided, family.length);
  return family.map(({ i, j, difference, point, p }, at) => {
    const decided = isDecided(i, j);
    const { value, u } = difference;
    const find = (chance: number): Finding =>
      !decided ? 'no-verdict' : chance < falseAlarm ? 'shown' : 'not-shown';
    const noWorse = (chance: number): NoWorse => ({ p: chance, finding: find(chance) });
    return {
      setup: fit.setups[i] as string,
      other: fit.setups[j] as string,
      cooler_K: difference,
      simultaneous95_K: [value - point * u, value + point * u],
      p,
      finding: find(p),
      noWorse: {
        setup: noWorse(raised[2 * at] as number),
        other: noWorse(raised[2 * at + 1] as number),
      },
    };
  });
}
