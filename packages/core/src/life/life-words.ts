import { formatNumber } from '../measure/index.js';
import { longestLife_years } from './forecast/life-end.js';
import type { Spread } from './forecast/quantiles.js';

/** Years with the digits they deserve; what is beyond telling says so. */
export function yearsFigure(years: number): string {
  if (years >= longestLife_years) return `more than ${longestLife_years}`;
  return formatNumber(years, years < 10 ? 1 : 0);
}

/** "0.3 to 3.3", or one figure where both ends read alike. */
export function rangeFigure(low: string, high: string): string {
  return low === high ? low : `${low} to ${high}`;
}

export function yearsRange({ p05, p95 }: Pick<Spread, 'p05' | 'p95'>): string {
  const low = yearsFigure(p05);
  const high = yearsFigure(p95);
  if (low === high) return `${low} years`;
  // "more than" must not stand behind "to": the range is open.
  return p95 >= longestLife_years ? `${low} years or more` : `${low} to ${high} years`;
}

export function ratioRange({ p05, p95 }: Pick<Spread, 'p05' | 'p95'>): string {
  return `${rangeFigure(formatNumber(p05, 2), formatNumber(p95, 2))} times`;
}

/** What ranges mean on every screen that shows them. */
export const rangeMeaning = 'Ranges hold nine draws in ten.';
