/**
 * The innermost sums of a forecast. They write where they are told, allocate nothing and trust their caller.
 *   F  a surface: log of the age gained in a year in one state of the device     nu × nv, u running fastest
 *   u  rise of the cell, v  shift of the activation energy, both scaled to -1..1  -
 *   g  the surface at one v, a polynomial of u                                    nu
 *   t  time                                                                      yr
 */
type Vector = Float64Array;

/** Puts one shift of the energy into a surface. */
export function foldSurface(F: Vector, nu: number, nv: number, v: number, g: Vector, at: number): void {
  for (let i = 0; i < nu; i++) {
    let sum = F[i + nu * (nv - 1)]!;
    for (let j = nv - 2; j >= 0; j--) sum = sum * v + F[i + nu * j]!;
    g[at + i] = sum;
  }
}

/** Age gained in a year at one rise. */
export function ageAtRise(g: Vector, at: number, nu: number, u: number): number {
  let sum = g[at + nu - 1]!;
  for (let i = nu - 2; i >= 0; i--) sum = sum * u + g[at + i]!;
  return Math.exp(sum);
}

/**
 * Time at which a loss that only grows reaches a target: false position on logarithms, where a power law is a straight line,
 * with the stale end halved (Illinois). The ends of the range stand for "sooner" and "later".
 */
export function timeOfLoss(target: number, low: number, high: number, lossOf: (t: number) => number): number {
  let [a, b] = [Math.log(low), Math.log(high)];
  let fa = Math.log(lossOf(low) / target);
  if (!(fa < 0)) return low;
  let fb = Math.log(lossOf(high) / target);
  if (!(fb > 0)) return high;
  let side = 0;
  for (let steps = 0; steps < 60; steps++) {
    const x = fa === Number.NEGATIVE_INFINITY ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
    const f = Math.log(lossOf(Math.exp(x)) / target);
    if (Math.abs(f) < 1e-9) return Math.exp(x);
    if (f < 0) {
      a = x;
      fa = f;
      if (side === -1) fb /= 2;
      side = -1;
    } else {
      b = x;
      fb = f;
      if (side === 1) fa /= 2;
      side = 1;
    }
    if (b - a < 1e-10) break;
  }
  return Math.exp((a + b) / 2);
}
