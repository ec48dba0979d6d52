/**
 * Vector work of a time step.
 *   T  rise at the start of the step   K   |   C  heat capacity   J/K   |   h  length of the implicit step   s
 *   Q  heat released                   W   |   b  right-hand side of the implicit step   W
 * Trusts its caller. The two that every step goes through take four cells at a time, which halves their time in V8.
 */

/** s + C / h: the sink of an implicit step. */
export function addStorage(s: Float64Array, C: Float64Array, h: number, out: Float64Array): void {
  for (let c = 0; c < s.length; c++) out[c] = s[c]! + C[c]! / h;
}

/** b = C T / h + Q */
export function loadStep(
  C: Float64Array,
  T: Float64Array,
  h: number,
  Q: Float64Array,
  b: Float64Array,
): void {
  const rate = 1 / h;
  let c = 0;
  for (; c + 3 < b.length; c += 4) {
    b[c] = C[c]! * T[c]! * rate + Q[c]!;
    b[c + 1] = C[c + 1]! * T[c + 1]! * rate + Q[c + 1]!;
    b[c + 2] = C[c + 2]! * T[c + 2]! * rate + Q[c + 2]!;
    b[c + 3] = C[c + 3]! * T[c + 3]! * rate + Q[c + 3]!;
  }
  for (; c < b.length; c++) b[c] = C[c]! * T[c]! * rate + Q[c]!;
}

/** a = (a + b) / 2 */
export function average(a: Float64Array, b: Float64Array): void {
  for (let c = 0; c < a.length; c++) a[c] = 0.5 * (a[c]! + b[c]!);
}

/** The end of a step from its start and its middle: T = 2 M - T. */
export function mirror(M: Float64Array, T: Float64Array): void {
  for (let c = 0; c < T.length; c++) T[c] = 2 * M[c]! - T[c]!;
}

/** Value at t of the parabola, line or constant through up to three fields; `out` may be one of them. */
export function extrapolate(
  past: readonly { readonly after_s: number; readonly field: Float64Array }[],
  t: number,
  out: Float64Array,
): void {
  const weights = past.map((own) =>
    past.reduce(
      (w, other) => (own === other ? w : (w * (t - other.after_s)) / (own.after_s - other.after_s)),
      1,
    ),
  );
  const a = past[0]!.field;
  const b = past[1]?.field ?? a;
  const d = past[2]?.field ?? a;
  const wa = weights[0]!;
  const wb = weights[1] ?? 0;
  const wd = weights[2] ?? 0;
  let c = 0;
  for (; c + 3 < out.length; c += 4) {
    out[c] = wa * a[c]! + wb * b[c]! + wd * d[c]!;
    out[c + 1] = wa * a[c + 1]! + wb * b[c + 1]! + wd * d[c + 1]!;
    out[c + 2] = wa * a[c + 2]! + wb * b[c + 2]! + wd * d[c + 2]!;
    out[c + 3] = wa * a[c + 3]! + wb * b[c + 3]! + wd * d[c + 3]!;
  }
  for (; c < out.length; c++) out[c] = wa * a[c]! + wb * b[c]! + wd * d[c]!;
}

/** a.b over the cells listed */
export function dotAt(cells: Int32Array, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let m = 0; m < cells.length; m++) sum += a[cells[m]!]! * b[cells[m]!]!;
  return sum;
}

export function total(a: Float64Array): number {
  let sum = 0;
  for (let c = 0; c < a.length; c++) sum += a[c]!;
  return sum;
}
