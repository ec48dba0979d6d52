/**
 * Incomplete gamma and beta functions as logarithms of tail probabilities, and their inverses.
 *   a, b  shape parameters > 0   |   x  argument   |   y  1 - x, passed beside x so that neither loses digits
 *   w     ln x (gamma) or ln(x / y) (beta)   |   p, q  lower and upper tail probability, p + q = 1
 * Trusts its caller. Work grows with the root of the larger parameter.
 *
 * @source [DLMF] 5.11.1 (Stirling), 8.7.1 and 8.9.2 (incomplete gamma), 8.17.22 (incomplete beta)
 */
const halfLogTwoPi = 0.9189385332046728;
const precision = 4e-16;
const tiny = 1e-300;

/** ln Gamma(x) less its Stirling form (x - 1/2) ln x - x + ln(2 pi) / 2: small, so differences of it keep their digits. */
export function stirlingRest(x: number): number {
  let rest = 0;
  for (; x < 10; x++) rest += (x + 0.5) * Math.log1p(1 / x) - 1;
  const r = 1 / (x * x);
  const series =
    1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r * (1 / 1188 - r * (691 / 360360 - r / 156)))));
  return rest + series / x;
}

export function logGammaOf(x: number): number {
  return (x - 0.5) * Math.log(x) - x + halfLogTwoPi + stirlingRest(x);
}

/** ln(1 + d) where ratio = 1 + d is known as well; near -1 the ratio keeps more digits. */
function logOf(d: number, ratio: number): number {
  return d < -0.5 ? Math.log(ratio) : Math.log1p(d);
}

/** ln(1 - exp t), t <= 0. */
function logComplement(t: number): number {
  return t > -0.7 ? Math.log(-Math.expm1(t)) : Math.log1p(-Math.exp(t));
}

/** ln of x^a e^-x / Gamma(a): the density of ln x. */
export function logGammaDensity(a: number, x: number): number {
  const d = (x - a) / a;
  return a * (logOf(d, x / a) - d) + 0.5 * Math.log(a) - halfLogTwoPi - stirlingRest(a);
}

/** ln of the regularised lower (P) or upper (Q) incomplete gamma function. */
export function logGammaTail(a: number, x: number, upper: boolean): number {
  if (x <= 0) return upper ? 0 : -Infinity;
  if (x === Infinity) return upper ? -Infinity : 0;
  const factor = logGammaDensity(a, x);
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; term > precision * sum; n++) {
      term *= x / (a + n);
      sum += term;
    }
    const lower = Math.min(0, factor + Math.log(sum));
    return upper ? logComplement(lower) : lower;
  }
  let den = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / den;
  let h = d;
  for (let i = 1, change = 0; Math.abs(change - 1) > precision && i < 1e7; i++) {
    const an = -i * (i - a);
    den += 2;
    d = 1 / (an * d + den || tiny);
    c = den + an / c || tiny;
    change = d * c;
    h *= change;
  }
  const above = Math.min(0, factor + Math.log(h));
  return upper ? above : logComplement(above);
}

/** ln of x^a y^b / B(a, b): the density of ln(x / y). */
export function logBetaDensity(a: number, b: number, x: number, y: number): number {
  const shift = x * b - y * a;
  return (
    a * logOf(shift / a, (x * (a + b)) / a) +
    b * logOf(-shift / b, (y * (a + b)) / b) +
    0.5 * Math.log(a / (a + b)) +
    0.5 * Math.log(b) -
    halfLogTwoPi +
    stirlingRest(a + b) -
    stirlingRest(a) -
    stirlingRest(b)
  );
}

/**
 * Continued fraction of the incomplete beta function: even part of [DLMF] 8.17.22, by the modified Lentz method. Its
 * denominators are built from a y - b x, so x beside 1 costs no digits, as it would in the plain form.
 * Fast where x < (a + 1) / (a + b + 2).
 */
function betaFraction(a: number, b: number, x: number, y: number): number {
  const lambda = a * y - b * x;
  let f = (lambda + 1) / (a + 1);
  let c = f;
  let d = 0;
  for (let n = 1, change = 0; Math.abs(change - 1) > precision && n < 1e7; n++) {
    const odd = (-(a + n - 1) * (a + b + n - 1) * x) / ((n === 1 ? a : a + 2 * n - 2) * (a + 2 * n - 1));
    const even = (n * (b - n) * x) / ((a + 2 * n - 1) * (a + 2 * n));
    const den = (n + ((a + n) * (lambda + 1 + n * (1 + y))) / (a + 2 * n + 1)) / (a + 2 * n) + even;
    d = 1 / (den - odd * even * d || tiny);
    c = den - (odd * even) / c || tiny;
    change = c * d;
    f *= change;
  }
  return 1 / f;
}

/** ln of the regularised incomplete beta function I_x(a, b), or of its complement. */
export function logBetaTail(a: number, b: number, x: number, y: number, upper: boolean): number {
  if (x <= 0) return upper ? 0 : -Infinity;
  if (y <= 0) return upper ? -Infinity : 0;
  const factor = logBetaDensity(a, b, x, y);
  if (x < (a + 1) / (a + b + 2)) {
    const lower = Math.min(0, factor + Math.log(betaFraction(a, b, x, y) / a));
    return upper ? logComplement(lower) : lower;
  }
  const above = Math.min(0, factor + Math.log(betaFraction(b, a, y, x) / b));
  return upper ? above : logComplement(above);
}

/**
 * Newton on the logarithm of the smaller tail as a function of w. The density of w is log-concave, hence so is each
 * tail: after the first step all iterates lie on one side of the root and close in on it, so no bracket is needed.
 * `stride` bounds a step to the right.
 */
function newtonOnTail(
  w: number,
  target: number,
  upper: boolean,
  stride: number,
  logTail: (w: number) => number,
  logDensity: (w: number) => number,
): number {
  for (let i = 0; i < 200; i++) {
    const tail = logTail(w);
    const ahead = (target - tail) * Math.exp(tail - logDensity(w));
    const next = Math.min(700, Math.max(-700, w + Math.min(stride, upper ? -ahead : ahead)));
    const moved = Math.abs(next - w);
    w = next;
    if (!(moved > 2e-15 * (1 + Math.abs(w)))) break;
  }
  // Beyond 700 the argument itself leaves the range of doubles.
  return Math.abs(w) < 700 ? w : w * Infinity;
}

/** ln x with P(a, x) = p. The upper tail falls like exp(-e^w), so a step to the right that is too long costs many back. */
export function gammaPoint(a: number, p: number, q: number): number {
  const upper = q < p;
  return newtonOnTail(
    Math.log(a),
    Math.log(upper ? q : p),
    upper,
    upper ? 2 : Infinity,
    (w) => logGammaTail(a, Math.exp(w), upper),
    (w) => logGammaDensity(a, Math.exp(w)),
  );
}

/** ln(x / (1 - x)) with I_x(a, b) = p. */
export function betaPoint(a: number, b: number, p: number, q: number): number {
  const upper = q < p;
  return newtonOnTail(
    Math.log(a / b),
    Math.log(upper ? q : p),
    upper,
    Infinity,
    (w) => logBetaTail(a, b, 1 / (1 + Math.exp(-w)), 1 / (1 + Math.exp(w)), upper),
    (w) => logBetaDensity(a, b, 1 / (1 + Math.exp(-w)), 1 / (1 + Math.exp(w))),
  );
}
