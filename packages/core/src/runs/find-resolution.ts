/**
 * The step in which a sensor or its logger moves, found from its readings; null where they move in no even step.
 *
 * A reading rounded to steps lies anywhere within half a step of it, so its standard uncertainty is step / sqrt(12).
 *
 * @param reading_C as logged, °C; NaN where there was no reading
 * @returns step and its standard uncertainty, K
 * @source [JCGM-100] F.2.2.1
 */
export function findResolution(reading_C: Float64Array): { step_K: number; u_K: number } | null {
  // More readings than these do not find a finer step.
  const seen = new Set<number>();
  const rows = Math.min(reading_C.length, 20_000);
  let last = Number.NaN;
  for (let row = 0; row < rows; row++) {
    const value = reading_C[row] as number;
    // Most readings repeat the one before, and a set is dear to ask.
    if (value !== last && !Number.isNaN(value)) seen.add(value);
    last = value;
  }
  const levels = [...seen].sort((one, other) => one - other);
  if (levels.length < 4) return null;
  const gaps = levels
    .slice(1)
    .map((level, index) => level - (levels[index] as number))
    // Two writings of one level after a change of unit differ in the last bits only.
    .filter((gap) => gap > 1e-6);
  const usual = gaps.toSorted((one, other) => one - other)[Math.floor(gaps.length / 5)];
  if (usual === undefined) return null;
  const steps = gaps.map((gap) => Math.round(gap / usual));
  if (steps.some((count) => count < 1)) return null;
  const step_K = gaps.reduce((sum, gap) => sum + gap, 0) / steps.reduce((sum, count) => sum + count, 0);
  const isEven = gaps.filter(
    (gap, index) => Math.abs(gap - (steps[index] as number) * step_K) > 0.2 * step_K,
  );
  return isEven.length > 0.05 * gaps.length ? null : { step_K, u_K: step_K / Math.sqrt(12) };
}
