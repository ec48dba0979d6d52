/** How numbers become words: one formatter per quantity, digits no finer than the uncertainty allows. */
import type { Estimate } from './estimate.js';

const minus = '−';
const gap = ' ';

/** Decimals that show an uncertainty to about its first significant digit, between 0 and 2; 1 where u is unknown. */
export function decimalsFor(u: number | null | undefined): number {
  if (u === null || u === undefined || !Number.isFinite(u) || u <= 0) return 1;
  if (u >= 2) return 0;
  return u >= 0.05 ? 1 : 2;
}

/** A plain number with a true minus sign; never "−0.0". */
export function formatNumber(value: number, decimals = 1): string {
  if (!Number.isFinite(value)) return 'not known';
  const text = Math.abs(value).toFixed(decimals);
  const isZero = Number(text) === 0;
  return value < 0 && !isZero ? minus + text : text;
}

export function formatCelsius(value: number, u?: number): string {
  return `${formatNumber(value, decimalsFor(u))}${gap}°C`;
}

export function formatKelvin(value: number, u?: number): string {
  return `${formatNumber(value, decimalsFor(u))}${gap}K`;
}

/** An uncertainty is never shown as zero: below the last digit it reads "under 0.01". */
function uncertaintyText(u: number, decimals: number): string {
  const text = formatNumber(u, decimals);
  return Number(text) === 0 ? `under ${(10 ** -decimals).toFixed(decimals)}` : text;
}

/** "46.5 ± 0.2 °C": value and standard uncertainty. */
export function formatEstimate(estimate: Pick<Estimate, 'value' | 'u'>, unit: string): string {
  const decimals = decimalsFor(estimate.u);
  return `${formatNumber(estimate.value, decimals)} ± ${uncertaintyText(estimate.u, decimals)}${gap}${unit}`;
}

export function formatPercent(ratio: number): string {
  const percent = 100 * ratio;
  if (percent > 0 && percent < 1) return '< 1 %';
  if (percent < 100 && percent > 99) return '> 99 %';
  return `${percent.toFixed(0)} %`;
}

/** Elapsed time as h:mm. */
export function formatElapsed(after_s: number): string {
  const minutes = Math.round(after_s / 60);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
}

/** A duration a person plans with: "45 s", "24 min", "3.6 h". */
export function formatDuration(span_s: number): string {
  if (span_s < 90) return `${span_s.toFixed(0)} s`;
  if (span_s < 5400) return `${(span_s / 60).toFixed(0)} min`;
  return `${(span_s / 3600).toFixed(1)} h`;
}

/** "25.0 ± 0.6 min": both in the unit that the duration alone would have. */
export function formatDurationEstimate(span_s: number, u_s: number): string {
  const [unit, long_s] = span_s < 90 ? ['s', 1] : span_s < 5400 ? ['min', 60] : ['h', 3600];
  return formatEstimate({ value: span_s / long_s, u: u_s / long_s }, unit);
}

/** "5 runs", "1 run": the noun follows the number. */
export function formatCount(count: number, noun: string, plural = `${noun}s`): string {
  return `${count} ${count === 1 ? noun : plural}`;
}

/** "bare, film and plate". */
export function formatList(items: readonly string[]): string {
  if (items.length < 2) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}
