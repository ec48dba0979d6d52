import { dofNumber, dofRecord, effectiveDof } from '../measure/index.js';
import { tQuantile } from '../numerics/index.js';
import { correctedU_K, correctReading_C, differenceU_K } from './apply-correction.js';
import type { Correction } from './correction.js';

/** One source of doubt, in the three uses of a probe. */
export interface BudgetLine {
  readonly name:
    | 'maker'
    | 'gain'
    | 'baths'
    | 'check-readings'
    | 'resolution'
    | 'drift'
    | 'attachment'
    | 'cold-junction';
  /** On one corrected reading, K. */
  readonly u_K: number;
  /** On a difference that the same probe reads, `apart_K` apart, K. */
  readonly sameProbe_u_K: number;
  /** On a difference against another probe at the same temperature, K; null where there is no other. */
  readonly otherProbe_u_K: number | null;
  readonly dof: number | null;
}

/** A sum of the lines: standard uncertainty, degrees of freedom, and the half-width that covers 95 %. */
export interface BudgetTotal {
  readonly u_K: number;
  readonly dof: number | null;
  readonly coverage: number;
  readonly expanded_K: number;
}

export interface ProbeBudget {
  readonly probe: string;
  readonly at_C: number;
  readonly correction_K: number;
  readonly apart_K: number;
  /** The probe that the third column is held against. */
  readonly other: string | null;
  readonly lines: readonly BudgetLine[];
  readonly total: BudgetTotal;
  readonly sameProbe: BudgetTotal;
  readonly otherProbe: BudgetTotal | null;
}

/** How far apart two readings of one probe are taken to be in the budget of a comparison. */
const apart_K = 1;

type DoubtPart =
  | 'own'
  | 'unknownGain_u'
  | 'shared'
  | 'reading_u_K'
  | 'drift_u_K'
  | 'attachment_u_K'
  | 'coldJunction';

/** The correction as if all but one part of its doubt were nought. */
function leaveOnly(correction: Correction, part: DoubtPart): Correction {
  const exact = {
    own: { offset: 0, cross: 0, gain: 0 },
    shared: [],
    unknownGain_u: 0,
    reading_u_K: 0,
    drift_u_K: 0,
    attachment_u_K: 0,
    coldJunction: null,
  };
  return { ...correction, ...exact, [part]: correction[part] };
}

/**
 * Where the doubt of a probe comes from, for one reading and for two kinds of difference: read twice by the same probe,
 * as in a comparison of set-ups, and read by two probes, as when they are swapped or one replaces the other.
 *
 * @param other a second probe, best one that sat in the same check; null where there is none
 * @param at_C temperature of the reading
 * @source [JCGM-100] clause 8 for the order of work, Eq. 16 for what is shared, G.2b for the degrees of freedom
 */
export function budgetProbe(correction: Correction, other: Correction | null, at_C: number): ProbeBudget {
  const line = (name: BudgetLine['name'], part: DoubtPart, dof: number | null = null): BudgetLine => {
    const mine = leaveOnly(correction, part);
    const others = other && leaveOnly(other, part);
    return {
      name,
      u_K: correctedU_K(mine, at_C),
      sameProbe_u_K: differenceInUseU_K(mine, at_C, mine, at_C - apart_K),
      otherProbe_u_K: others && differenceInUseU_K(mine, at_C, others, at_C),
      dof,
    };
  };
  const lines = [
    ...(correction.check === null
      ? [line('maker', 'own')]
      : [line('baths', 'shared'), line('check-readings', 'own', correction.dof)]),
    ...(correction.unknownGain_u > 0 ? [line('gain', 'unknownGain_u')] : []),
    line('resolution', 'reading_u_K'),
    line('drift', 'drift_u_K'),
    line('attachment', 'attachment_u_K'),
    ...(correction.coldJunction === null ? [] : [line('cold-junction', 'coldJunction')]),
  ];
  const total = (u: (line: BudgetLine) => number) =>
    sumBudget(lines.map((one) => ({ u: u(one), dof: one.dof })));
  return {
    probe: correction.probe,
    at_C,
    correction_K: correctReading_C(correction, at_C) - at_C,
    apart_K,
    other: other?.probe ?? null,
    lines,
    total: total((one) => one.u_K),
    sameProbe: total((one) => one.sameProbe_u_K),
    otherProbe: other === null ? null : total((one) => one.otherProbe_u_K ?? 0),
  };
}

/** Doubt of a difference of two single readings in use: the corrections' part and each reading's own resolution, K. */
function differenceInUseU_K(a: Correction, atA_C: number, b: Correction, atB_C: number): number {
  return Math.hypot(differenceU_K(a, atA_C, b, atB_C), a.gain * a.reading_u_K, b.gain * b.reading_u_K);
}

/**
 * Sum of independent contributions with its coverage.
 * @source [JCGM-100] Eq. 10, G.2b and G.3.2: the factor is Student's t at 97.5 %
 */
export function sumBudget(
  parts: readonly { readonly u: number; readonly dof: number | null }[],
): BudgetTotal {
  const u_K = Math.hypot(...parts.map(({ u }) => u));
  const dof = dofRecord(effectiveDof(parts));
  const coverage = tQuantile(0.975, dofNumber({ dof }));
  return { u_K, dof, coverage, expanded_K: coverage * u_K };
}
