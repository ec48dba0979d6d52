import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FadingCell } from './fading-cell.kernel.js';

interface Law {
  /** Factor and exponent of each mechanism's loss. */
  readonly k: readonly number[];
  readonly w: readonly number[];
}
const none = Number.POSITIVE_INFINITY;
/** Years to a loss, and the losses at some times. */
function follow(
  { k, w }: Law,
  rates: readonly number[],
  options: {
    target?: number;
    times?: number[];
    later?: readonly number[];
    at?: number;
    level?: number;
    pieces?: number;
  } = {},
) {
  const { target = 0.2, times = [], later = rates, at = none, level = 1, pieces = 24 } = options;
  const cell = new FadingCell(2, pieces);
  cell.obey(k.length, Float64Array.from(k), Float64Array.from(w), level, () => 0);
  const losses = new Float64Array(times.length);
  const [A, B] = [Float64Array.from(rates), Float64Array.from(later)];
  return { years: cell.follow(A, B, 0, at, target, times, losses, 0), losses };
}

describe('without feedback', () => {
  // K sqrt(t) + M t = q is a quadratic in sqrt(t); the root by the school formula, in the form that loses no digits.
  test('a loss by the root of time and by time itself reaches a fifth when the quadratic formula says', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-4, max: 0.5, noNaN: true }),
        fc.double({ min: 1e-5, max: 0.5, noNaN: true }),
        (root, linear) => {
          const exact = ((2 * 0.2) / (root + Math.sqrt(root * root + 4 * linear * 0.2))) ** 2;
          const { years } = follow({ k: [root, linear], w: [0.5, 1] }, [1, 0, 0, 1, 0, 0]);
          // The search for a time stops at 1e-9 of a loss.
          expect(Math.abs(years / Math.max(1 / 365, Math.min(100, exact)) - 1)).toBeLessThan(1e-8);
        },
      ),
    );
  });

  test('one law is answered as its closed form has it, and what never wears out lasts to the end of the range', () => {
    const years = (k: number) => follow({ k: [k], w: [0.75] }, [1, 0, 0]).years;
    expect(years(0.05)).toBeCloseTo(4 ** (1 / 0.75), 8);
    expect(years(0)).toBe(100);
    expect(years(1e6)).toBe(1 / 365);
    expect(follow({ k: [0.1, 0], w: [0.5, 1] }, [1, 0, 0, 1, 0, 0]).years).toBeCloseTo(4, 7);
    expect(follow({ k: [0.1], w: [0.5] }, [1, 0, 0], { target: 0.3 }).years).toBeCloseTo(9, 7);
  });
});

describe('with feedback, in closed form', () => {
  // dL/dt = k (1 + b L/(1-L)): t is the integral of (1-L)/(1+cL), c = b-1, worked out by partial fractions.
  const exactWith = (b: number) => (-0.2 / (b - 1) + (b * Math.log(1 + 0.2 * (b - 1))) / (b - 1) ** 2) / 0.07;
  const offWith = (b: number, pieces: number) =>
    Math.abs(follow({ k: [0.07], w: [1] }, [1, b, 0], { pieces }).years / exactWith(b) - 1);

  test.each([0.3, 2.2, -0.4])('a loss that grows with time itself, feedback %f', (b) => {
    expect(offWith(b, 24)).toBeLessThan(1e-6);
  });

  // Each year's ages in proportion to 1/(1-L), which is feedback 1: L - L²/2 = k t, and for a root of time L²/2 - L³/3 = k² t / 2.
  test('ages in proportion to the depth', () => {
    const linear = follow({ k: [0.07], w: [1] }, [1, 1, 0]).years;
    expect(Math.abs(linear / ((0.2 - 0.02) / 0.07) - 1)).toBeLessThan(1e-6);
    const root = follow({ k: [0.1], w: [0.5] }, [1, 1, 0]).years;
    expect(Math.abs(root / ((2 / 0.01) * (0.02 - 0.008 / 3)) - 1)).toBeLessThan(1e-6);
  });

  test('twice the steps, about a sixteenth of the error: it is of fourth order', () => {
    const targets = Array.from({ length: 40 }, (_, i) => 0.12 + 0.002 * i);
    // The largest over many losses, since the error within a step hangs on where in it one lies.
    const off = (pieces: number) =>
      Math.max(
        ...targets.map((target) => {
          const exact = (2 / 0.01) * (target ** 2 / 2 - target ** 3 / 3);
          const { years } = follow({ k: [0.1], w: [0.5] }, [1, 1, 0], { target, pieces });
          return Math.abs(years / exact - 1);
        }),
      );
    expect(off(4) / off(8)).toBeGreaterThan(10);
    expect(off(4) / off(8)).toBeLessThan(26);
  });

  test('after the end of a life the rate stays what it is then', () => {
    // 1.25 of the first.
    const end = 0.18 / 0.07;
    const { losses } = follow({ k: [0.07], w: [1] }, [1, 1, 0], { times: [0, end + 1, end + 3] });
    expect(losses[0]).toBe(0);
    expect(losses[1]).toBeCloseTo(0.2 + 0.07 * 1.25, 6);
    expect(losses[2]).toBeCloseTo(0.2 + 0.07 * 1.25 * 3, 6);
  });

  test('another set-up from some time on', () => {
    // 0.18 of L - L²/2 in all: 0.07 a year for one year, then twice as much.
    const rates = [1, 1, 0];
    const { years } = follow({ k: [0.07], w: [1] }, rates, { later: [2, 2, 0], at: 1 });
    expect(Math.abs(years / (1 + 0.11 / 0.14) - 1)).toBeLessThan(1e-6);
  });
});

/** The same coupled equation by classical Runge-Kutta in the root of time, in steps so small that their own error does not count. */
function rungeKutta({ k, w }: Law, rates: readonly number[], level: number): number {
  const loss = (s: readonly number[]) =>
    level * s.reduce((sum, age, m) => sum + (k[m] ?? 0) * age ** (w[m] ?? 1), 0);
  const slope = (u: number, s: readonly number[]) => {
    const L = loss(s);
    const x = L / (1 - L);
    return s.map((_, m) => 2 * u * [0, 1, 2].reduce((sum, i) => sum + (rates[3 * m + i] ?? 0) * x ** i, 0));
  };
  const plus = (s: readonly number[], d: readonly number[], h: number) =>
    s.map((v, m) => v + h * (d[m] ?? 0));
  const advance = (u: number, s: readonly number[], h: number) => {
    const a = slope(u, s);
    const b = slope(u + h / 2, plus(s, a, h / 2));
    const c = slope(u + h / 2, plus(s, b, h / 2));
    const d = slope(u + h, plus(s, c, h));
    return s.map((v, m) => v + (h / 6) * ((a[m] ?? 0) + 2 * (b[m] ?? 0) + 2 * (c[m] ?? 0) + (d[m] ?? 0)));
  };
  let s: readonly number[] = k.map(() => 0);
  const h = 1e-3;
  for (let u = 0; ; u += h) {
    const next = advance(u, s, h);
    if (loss(next) < 0.2) {
      s = next;
      continue;
    }
    let [low, high] = [0, h];
    for (let i = 0; i < 40; i++) {
      const middle = (low + high) / 2;
      if (loss(advance(u, s, middle)) < 0.2) low = middle;
      else high = middle;
    }
    return (u + low) ** 2;
  }
}

describe('two mechanisms of different laws, one feeding back on the other', () => {
  // What published models make of a day that takes half of a pack: calendar ages fall a little with fade, those by cycles grow by a third.
  const cases = [
    {
      of: 'time^0.75 and cycles^0.5',
      k: [0.03, 0.05],
      w: [0.75, 0.5],
      rates: [1, -0.15, 0, 2, 1, 0.4],
    },
    { of: 'time^0.5 and cycles^1', k: [0.05, 0.03], w: [0.5, 1], rates: [1, -0.1, 0, 1, 1.2, 0.6] },
    {
      of: 'time^1.15 and cycles^0.5',
      k: [0.01, 0.06],
      w: [1.15, 0.5],
      rates: [1, -0.3, 0.2, 1, 0.8, 0.2],
    },
    {
      of: 'time^0.88 and cycles^0.5',
      k: [0.02, 0.04],
      w: [0.88, 0.5],
      rates: [1, -0.2, 0, 2, 0.7, 0.2],
    },
  ];
  test.each(cases)('$of: years within 1e-6 of Runge-Kutta, in the usual steps within 1e-5', (law) => {
    const exact = rungeKutta(law, law.rates, 1.1);
    const off = (pieces: number) =>
      Math.abs(follow(law, law.rates, { level: 1.1, pieces }).years / exact - 1);
    expect(off(24)).toBeLessThan(1e-6);
    expect(off(4)).toBeLessThan(1e-5);
  });

  test('cutting a step anywhere changes nothing', () => {
    const law = { k: [0.03, 0.05], w: [0.75, 0.5] };
    const rates = [1, -0.15, 0, 2, 1, 0.4];
    const whole = follow(law, rates).years;
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 0.999, noNaN: true }), (part) => {
        // A change to the same set-up: both sides are within 1e-6 of the truth.
        expect(Math.abs(follow(law, rates, { at: part * whole }).years / whole - 1)).toBeLessThan(1e-6);
      }),
    );
  });

  test('the losses noted on the way are those of the years they are asked for', () => {
    const law = { k: [0.03, 0.05], w: [0.75, 0.5] };
    const rates = [1, -0.15, 0, 2, 1, 0.4];
    const marks = [0.02, 0.08, 0.14, 0.2];
    const times = marks.map((target) => follow(law, rates, { target }).years);
    for (const [i, loss] of follow(law, rates, { times }).losses.entries())
      expect(Math.abs(loss / (marks[i] ?? 0) - 1)).toBeLessThan(2e-6);
  });
});
