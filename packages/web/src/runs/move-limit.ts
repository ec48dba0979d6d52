/** Phase limits as a person moves them: what can be moved, how far, and what the phases are afterwards. Pure. */
import type { PhaseKind, Run } from '@soakbench/core/records';

export interface PhaseSpan {
  readonly kind: PhaseKind;
  readonly from_s: number;
  readonly to_s: number;
}

/** One limit. Where two phases meet, they share it and it moves both. */
export interface PhaseLimit {
  readonly key: string;
  readonly at_s: number;
  /** The phase that ends here, and the one that begins here, as places in the list. */
  readonly ends: number | null;
  readonly begins: number | null;
  /** "idle ends and load begins". */
  readonly words: string;
}

/** The limits of phases in the order of time. Phases that meet within `join_s` share a limit. */
export function phaseLimits(phases: readonly PhaseSpan[], join_s: number): PhaseLimit[] {
  const limits: PhaseLimit[] = [];
  for (const [index, phase] of phases.entries()) {
    const before = phases[index - 1];
    const meets = before !== undefined && Math.abs(phase.from_s - before.to_s) <= join_s;
    if (before !== undefined && meets) {
      limits.push({
        key: `${index - 1}-${index}`,
        at_s: phase.from_s,
        ends: index - 1,
        begins: index,
        words: `${before.kind} ends, ${phase.kind} begins`,
      });
    } else {
      if (before !== undefined) limits.push(endOf(before, index - 1));
      limits.push({
        key: `-${index}`,
        at_s: phase.from_s,
        ends: null,
        begins: index,
        words: `${phase.kind} begins`,
      });
    }
  }
  const last = phases.at(-1);
  if (last !== undefined) limits.push(endOf(last, phases.length - 1));
  return limits;
}

function endOf(phase: PhaseSpan, index: number): PhaseLimit {
  return { key: `${index}-`, at_s: phase.to_s, ends: index, begins: null, words: `${phase.kind} ends` };
}

/** How far a limit can go: never past its neighbours, and the phases keep at least `least_s`. */
export function limitRange(
  phases: readonly PhaseSpan[],
  limit: PhaseLimit,
  span_s: number,
  least_s: number,
): readonly [number, number] {
  const before = limit.ends === null ? phases[(limit.begins ?? 0) - 1] : phases[limit.ends];
  const after = limit.begins === null ? phases[(limit.ends ?? 0) + 1] : phases[limit.begins];
  const low = before === undefined ? 0 : limit.ends === null ? before.to_s : before.from_s + least_s;
  const high = after === undefined ? span_s : limit.begins === null ? after.from_s : after.to_s - least_s;
  return [low, Math.max(low, high)];
}

/** The phases with one limit moved, kept within its range. */
export function moveLimit(
  phases: readonly PhaseSpan[],
  limit: PhaseLimit,
  at_s: number,
  range: readonly [number, number],
): PhaseSpan[] {
  const kept_s = Math.max(range[0], Math.min(range[1], at_s));
  return phases.map(({ kind, from_s, to_s }, index) => ({
    kind,
    from_s: index === limit.begins ? kept_s : from_s,
    to_s: index === limit.ends ? kept_s : to_s,
  }));
}

/** The row nearest to a time. `after_s` rises strictly. */
export function nearestRow(after_s: ArrayLike<number>, at_s: number): number {
  let low = 0;
  let high = after_s.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((after_s[middle] ?? 0) <= at_s) low = middle;
    else high = middle;
  }
  const isLowNearer = at_s - (after_s[low] ?? 0) <= (after_s[high] ?? 0) - at_s;
  return Math.max(0, isLowNearer ? low : high);
}

/** The time so many rows further on, or back; the ends of the log hold it. */
export function stepRows(after_s: ArrayLike<number>, at_s: number, rows: number): number {
  const row = Math.max(0, Math.min(after_s.length - 1, nearestRow(after_s, at_s) + rows));
  return after_s[row] ?? at_s;
}

/** Idle, load and cool in the usual proportions, to be dragged into place where none was found. */
export function usualPhases(span_s: number): PhaseSpan[] {
  const [on_s, off_s] = [Math.round(0.25 * span_s), Math.round(0.8 * span_s)];
  return [
    { kind: 'idle', from_s: 0, to_s: on_s },
    { kind: 'load', from_s: on_s, to_s: off_s },
    { kind: 'cool', from_s: off_s, to_s: span_s },
  ];
}

/** The run with phases set by a person, or with none, so that they are found in the data again. */
export function withPhases(run: Run, phases: readonly PhaseSpan[] | null): Run {
  if (phases !== null) return { ...run, phases: phases.map((phase) => ({ ...phase })) };
  const { phases: _set, ...rest } = run;
  return rest;
}
