/** Numbers and records in the words this page needs more than once. */
import type { Contest, Margin, Quantity } from '../compare/index.js';
import type { LevelLook } from '../drawing/index.js';
import { formatCelsius, formatEstimate, formatKelvin, formatNumber } from '../measure/index.js';
import type { Build, Limit } from '../records/index.js';
import { type DossierInput, probeName } from './dossier-input.js';

export const nothing = '–';

export function rangeWords([low, high]: readonly [number, number], decimals = 1): string {
  return `${formatNumber(low, decimals)} to ${formatNumber(high, decimals)}`;
}

/** A number that a person typed, with the digits they typed, up to three. */
export function typedNumber(value: number): string {
  return formatNumber(
    value,
    [0, 1, 2].find((decimals) => Math.abs(value - Number(value.toFixed(decimals))) < 1e-9) ?? 3,
  );
}

export function signedKelvin(value_K: number, decimals: number): string {
  return `${value_K > 0 && Number(value_K.toFixed(decimals)) !== 0 ? '+' : ''}${formatNumber(value_K, decimals)}`;
}

/** "C1 cell 1, under load, charging": what a comparison speaks of. */
export function quantityWords(input: DossierInput, { probe, phase, charging }: Quantity): string {
  return `${probeName(input, probe)}, ${phase === 'load' ? 'under load' : 'idle'}${charging ? ', charging' : ''}`;
}

export function chanceWords(p: number): string {
  if (!Number.isFinite(p)) return nothing;
  return p < 0.001 ? 'under 0.001' : formatNumber(p, 3);
}

/** Where and how strictly a limit holds: "cell, stop", "processor, stop". */
export function limitPlace({ zones }: Pick<Build, 'zones'>, limit: Limit): string {
  if (limit.where === 'cell') return 'cell';
  if (limit.where === 'touch') return 'shell, to the touch';
  return zones.find(({ id }) => id === limit.zone)?.name ?? 'any zone';
}

const limitWords: Readonly<Record<Limit['level'], string>> = {
  prefer: 'preferred below',
  wear: 'wears above',
  stop: 'stop at',
};

export function limitText(build: Pick<Build, 'zones'>, limit: Limit): string {
  return `${limitPlace(build, limit)}, ${limitWords[limit.level]} ${typedNumber(limit.limit_C)} °C`;
}

/** A margin's judgement. *Wear* is said of a preferred level that is passed, *stop* of a stop limit only. */
export function judgeMargin({ level, limit, lowerBound }: Margin): {
  readonly look: LevelLook;
  readonly word: string;
} {
  const about = lowerBound ? ', at least' : '';
  if (level === 'unknown') return { look: 'none', word: 'not known' };
  if (limit.level !== 'stop')
    return level === 'holds' ? { look: 'prefer', word: 'prefer' } : { look: 'wear', word: `wear${about}` };
  if (level === 'stop') return { look: 'stop', word: `stop${about}` };
  return level === 'look' ? { look: 'look', word: 'look' } : { look: 'holds', word: 'holds' };
}

export function expectedWords({ expected_C, lowerBound }: Margin): string {
  if (expected_C === null) return nothing;
  // The stored state is at the design ambient by definition, so it has no doubt to show.
  const words = expected_C.u > 0 ? formatEstimate(expected_C, '°C') : formatCelsius(expected_C.value);
  return `${lowerBound ? '≥ ' : ''}${words}`;
}

export function marginWords({ margin_K, lowerBound }: Margin): string {
  return margin_K === null ? nothing : `${lowerBound ? '≤ ' : ''}${formatKelvin(margin_K)}`;
}

export function atLeastWords({ atLeast_K, lowerBound }: Margin): string {
  return atLeast_K === null || lowerBound ? nothing : formatKelvin(atLeast_K);
}

export function ceilingWords({ highestAmbient_C }: Margin): string {
  return highestAmbient_C === null ? nothing : formatCelsius(highestAmbient_C);
}

/** The spread from run to run in one sentence, assumed or found. */
export function spreadWords({ runToRun, blocks }: Pick<Contest, 'runToRun' | 'blocks'>): string {
  const sd = formatKelvin(runToRun.sd_K, runToRun.sd_K / 10);
  if (runToRun.assumed) return `Taken to be ${sd}: without repeats it could not be found from these runs.`;
  const dof = runToRun.dof === null ? '' : `, ${formatNumber(runToRun.dof, 0)} degrees of freedom`;
  return `${blocks === 'session' ? 'Within a session' : 'From run to run'}: standard deviation ${sd}${dof}.`;
}
