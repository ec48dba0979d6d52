import { formatDuration, formatKelvin } from '../measure/index.js';
import type { Plateau } from './run-result.js';
import { judgeStopRules } from './stop-rules.js';

export interface StopRuleRow {
  readonly key: string;
  readonly rule: string;
  readonly ends: string;
  readonly missing: string;
  readonly source: string;
}

/** The stop rules as a table: where each would have ended this soak, and what it would have missed. */
export function presentStopRules(plateau: Plateau): StopRuleRow[] {
  return judgeStopRules(plateau).map(({ rule, after_s, missing_K }) => ({
    key: rule.id,
    rule: rule.words,
    ends: after_s === null ? 'not within this phase' : `after ${formatDuration(after_s)}`,
    missing: missing_K === null ? '–' : formatKelvin(missing_K),
    source: rule.source,
  }));
}
