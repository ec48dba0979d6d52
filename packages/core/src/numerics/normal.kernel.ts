/**
 * The normal distribution, to about the last digit of double precision. Letters as in the sources.
 *   x  standardised value   -   |   p  probability   0 to 1
 * Coefficients are rounded to the nearest double.
 *
 * @source [CODY-1969] rational approximations of erf and erfc on three ranges
 * @source [WICHURA-1988] algorithm AS 241, PPND16, for the quantile
 */
const inverseRootPi = 0.5641895835477563;
const inverseRootTwoPi = 0.3989422804014327;

/**
 * Probability below x: half of erfc(-x / sqrt 2). Relative accuracy holds in the lower tail down to underflow.
 * The polynomials are written out: this is the innermost call of every simultaneous interval, and a loop over
 * coefficients takes three times as long.
 */
export function normalBelow(x: number): number {
  const y = Math.abs(x) * Math.SQRT1_2;
  let tail = 0;
  if (y <= 0.46875) {
    const s = y * y;
    const above =
      (((0.18577770618460315 * s + 3.1611237438705655) * s + 113.86415415105016) * s + 377.485237685302) * s +
      3209.3775891384694;
    const under =
      (((s + 23.601290952344122) * s + 244.02463793444417) * s + 1282.6165260773723) * s + 2844.236833439171;
    return 0.5 + (0.5 * x * Math.SQRT1_2 * above) / under;
  }
  if (y <= 4) {
    const above =
      (((((((2.1531153547440383e-8 * y + 0.5641884969886701) * y + 8.883149794388377) * y +
        66.11919063714163) *
        y +
        298.6351381974001) *
        y +
        881.952221241769) *
        y +
        1712.0476126340707) *
        y +
        2051.0783778260716) *
        y +
      1230.3393547979972;
    const under =
      (((((((y + 15.744926110709835) * y + 117.6939508913125) * y + 537.1811018620099) * y +
        1621.3895745666903) *
        y +
        3290.7992357334597) *
        y +
        4362.619090143247) *
        y +
        3439.3676741437216) *
        y +
      1230.3393548037495;
    tail = (0.5 * Math.exp(-y * y) * above) / under;
  } else if (y < 27.3) {
    const r = 1 / (y * y);
    const above =
      ((((0.016315387137302097 * r + 0.30532663496123236) * r + 0.36034489994980445) * r +
        0.12578172611122926) *
        r +
        0.016083785148742275) *
        r +
      0.0006587491615298378;
    const under =
      ((((r + 2.568520192289822) * r + 1.8729528499234673) * r + 0.5279051029514285) * r +
        0.06051834131244132) *
        r +
      0.0023352049762686918;
    tail = (0.5 * Math.exp(-y * y) * (inverseRootPi - (r * above) / under)) / y;
  }
  return x < 0 ? tail : 1 - tail;
}

export function normalDensity(x: number): number {
  return inverseRootTwoPi * Math.exp(-0.5 * x * x);
}

/** Polynomial with the highest power first. */
function horner(c: readonly number[], x: number): number {
  let sum = c[0]!;
  for (let i = 1; i < c.length; i++) sum = sum * x + c[i]!;
  return sum;
}

const centre = [
  2509.0809287301227, 33430.57558358813, 67265.7709270087, 45921.95393154987, 13731.69376550946,
  1971.5909503065513, 133.14166789178438, 3.3871328727963665,
];
const centreUnder = [
  5226.495278852854, 28729.085735721943, 39307.89580009271, 21213.794301586597, 5394.196021424751,
  687.1870074920579, 42.31333070160091, 1,
];
const flank = [
  0.0007745450142783414, 0.022723844989269184, 0.2417807251774506, 1.2704582524523684, 3.6478483247632045,
  5.769497221460691, 4.630337846156546, 1.4234371107496835,
];
const flankUnder = [
  1.0507500716444169e-9, 0.0005475938084995345, 0.015198666563616457, 0.14810397642748008, 0.6897673349851,
  1.6763848301838038, 2.053191626637759, 1,
];
const tip = [
  2.0103343992922881e-7, 2.7115555687434876e-5, 0.0012426609473880784, 0.026532189526576124,
  0.29656057182850487, 1.7848265399172913, 5.463784911164114, 6.657904643501103,
];
const tipUnder = [
  2.0442631033899397e-15, 1.421511758316446e-7, 1.8463183175100548e-5, 0.0007868691311456133,
  0.014875361290850615, 0.1369298809227358, 0.599832206555888, 1,
];

/** Value with probability p below it; p strictly between 0 and 1. */
export function normalPoint(p: number): number {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * horner(centre, r)) / horner(centreUnder, r);
  }
  const r = Math.sqrt(-Math.log(Math.min(p, 1 - p)));
  const x =
    r <= 5
      ? horner(flank, r - 1.6) / horner(flankUnder, r - 1.6)
      : horner(tip, r - 5) / horner(tipUnder, r - 5);
  return q < 0 ? -x : x;
}
