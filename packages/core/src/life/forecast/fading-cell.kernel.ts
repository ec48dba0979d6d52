import { endLoss, longestLife_years, shortestLife_years } from './life-end.js';

/**
 * The course of one cell whose use grows deeper as it fades. It writes where it is told and trusts its caller.
 *   s  age by each mechanism                                                         n
 *   k  factor, w exponent of each mechanism's loss k s^w; w NaN: `other` stands in   n
 *   L  loss, the sum of them times the cell's level                                  -
 *   A  ages gained in a year at x = L/(1-L): A0 + A1 x + A2 x² up to the end of a    n × 3, 1/yr
 *      life, and from there on what they are then
 *   B  the same after a change of set-up at the time c                               n × 3, 1/yr; c in yr
 *   u  root of the time, in which most losses are nearly straight from the start     yr^0.5
 *   r  rates of the ages per u: those per year, times 2u                             n
 *   h  length of a step in u
 * Of a step: 0 its start, 1 its middle, 2 its end.
 */
type Vector = Float64Array;

/** Loss over what is left at the end of a life. */
const atEnd = endLoss / (1 - endLoss);
/** No loss counts for more than this within a step that goes beyond the end of a life; what lies beyond it is cut off. */
const farthest = 0.4;
/** Steps up to the end of a life without feedback. They leave less than 1e-4 of the years, where a forecast's own doubt begins at 1e-2. */
const usualPieces = 4;

export class FadingCell {
  private readonly s0: Vector;
  private readonly s1: Vector;
  private readonly s2: Vector;
  private readonly r0: Vector;
  private readonly r1: Vector;
  private readonly r2: Vector;
  /** Slopes of the loss along each age. */
  private readonly slope1: Vector;
  private readonly slope2: Vector;
  private readonly between: Vector;
  private readonly pieces: number;
  private n = 0;
  private k: Vector;
  private w: Vector;
  private level = 1;
  private other: (mechanism: number, age: number) => number = () => 0;
  /** Whether the end of a life has been passed. */
  private isWorn = false;

  /** @param most mechanisms of any law */
  constructor(most: number, pieces = usualPieces) {
    this.pieces = pieces;
    const buffer = () => new Float64Array(most);
    this.s0 = buffer();
    this.s1 = buffer();
    this.s2 = buffer();
    this.r0 = buffer();
    this.r1 = buffer();
    this.r2 = buffer();
    this.slope1 = buffer();
    this.slope2 = buffer();
    this.between = buffer();
    this.k = buffer();
    this.w = buffer();
  }

  /** Takes up a law. @param level factor of this cell's loss */
  obey(n: number, k: Vector, w: Vector, level: number, other: (m: number, age: number) => number): void {
    this.n = n;
    this.k = k;
    this.w = w;
    this.level = level;
    this.other = other;
  }

  /**
   * Follows the cell until it has lost the target, and to the last of the times.
   *
   * Collocation at the ends and the middle of each step, of fourth order, solved by fixed point: over a step the feedback is weak.
   *
   * @param from where this cell's rates begin in A and B
   * @param times ascending, with room for their losses in `losses` from `into` on; or none
   * @returns years to the target, held within the ends of what can be told
   * @source [HAIRER-WANNER-96] Lobatto IIIA with three stages; the cubic through both ends of a step is what it says of the time in between
   */
  follow(
    A: Vector,
    B: Vector,
    from: number,
    c: number,
    target: number,
    times: readonly number[],
    losses: Vector,
    into: number,
  ): number {
    const { n, s0, s2, r0 } = this;
    const most = Math.sqrt(longestLife_years);
    const change = Math.sqrt(c);
    let rates = c > 0 ? A : B;
    const span = heldYears(this.spanTo(rates, from));
    // Steps that lose about as much each: even in u for a loss by the root of time, even in time for one by time itself.
    const evening = 0.5 / this.bendAt(rates, from, span);
    const root = Math.sqrt(span);
    let reached = Number.POSITIVE_INFINITY;
    let mark = Math.min(target, endLoss);
    let noted = 0;
    let u = 0;
    let L = 0;
    let steep = 0; // dL/du over the step before
    this.isWorn = false;
    s0.fill(0);
    r0.fill(0);
    for (let step = 1; u < most && (noted < times.length || reached > longestLife_years); ) {
      const goal = this.isWorn ? most : Math.min(most, root * (step / this.pieces) ** evening);
      const changes = u < change && goal >= change;
      const full = changes ? change : goal;
      const h = full - u;
      const L2 = this.step(rates, from, u, h, L, steep);
      let u2 = full;
      if (L2 >= mark && h > 0) u2 = u + h * this.partTo(mark, L, L2, h);
      for (; noted < times.length && times[noted]! <= u2 * u2; noted++)
        losses[into + noted] = h > 0 ? this.lossWithin((Math.sqrt(times[noted]!) - u) / h, h) : L2;
      if (L2 >= mark && h > 0) {
        // The rates bend here: the step ends here, and what is left of it comes next.
        this.agesWithin((u2 - u) / h, h, s2);
        this.isWorn = mark >= endLoss;
        if (mark === target) reached = u2 * u2;
        mark = mark < target ? target : this.isWorn ? Number.POSITIVE_INFINITY : endLoss;
      } else if (changes) rates = B;
      else step++;
      const L1 = u2 < full ? this.lossOf(s2, this.slope2) : L2;
      steep = h > 0 ? (L1 - L) / Math.max(1e-12, u2 - u) : steep;
      L = L1;
      u = u2;
      for (let m = 0; m < n; m++) s0[m] = s2[m]!;
      this.ratesAt(rates, from, L, 2 * u, r0);
    }
    return heldYears(reached);
  }

  /**
   * Carries the ages over a step and returns the loss at its end. The laws are asked at a guess and followed from there along their slopes,
   * which are cheap; they are asked again only where the guess was so far off that its square would count.
   */
  private step(rates: Vector, from: number, u: number, h: number, L0: number, steep: number): number {
    const { n, s0, s1, s2, r0, r1, r2, slope1, slope2 } = this;
    let L1 = L0 + (steep * h) / 2;
    let L2 = L0 + steep * h;
    this.ratesAt(rates, from, L1, 2 * u + h, r1);
    this.ratesAt(rates, from, L2, 2 * (u + h), r2);
    for (let m = 0; m < n; m++) {
      s2[m] = s0[m]! + (h / 6) * (r0[m]! + 4 * r1[m]! + r2[m]!);
      s1[m] = (s0[m]! + s2[m]!) / 2 + (h / 8) * (r0[m]! - r2[m]!);
    }
    for (let guess = 0; guess < 8; guess++) {
      L1 = this.lossOf(s1, slope1);
      L2 = this.lossOf(s2, slope2);
      let off = 0;
      for (let round = 0; round < 8; round++) {
        this.ratesAt(rates, from, L1, 2 * u + h, r1);
        this.ratesAt(rates, from, L2, 2 * (u + h), r2);
        let moved = 0;
        for (let m = 0; m < n; m++) {
          const end = s0[m]! + (h / 6) * (r0[m]! + 4 * r1[m]! + r2[m]!);
          const middle = (s0[m]! + end) / 2 + (h / 8) * (r0[m]! - r2[m]!);
          L1 += slope1[m]! * (middle - s1[m]!);
          L2 += slope2[m]! * (end - s2[m]!);
          moved += Math.abs(slope2[m]! * (end - s2[m]!));
          s1[m] = middle;
          s2[m] = end;
        }
        off += moved;
        if (moved < 1e-8) break;
      }
      if (off < 1e-4) break;
    }
    return L2;
  }

  /** Rates of all ages at a loss, per u. */
  private ratesAt(A: Vector, from: number, L: number, twice_u: number, r: Vector): void {
    const held = Math.min(L, farthest);
    const x = this.isWorn ? atEnd : held / (1 - held);
    for (let m = 0; m < this.n; m++) {
      const at = from + 3 * m;
      r[m] = twice_u * (A[at]! + x * (A[at + 1]! + x * A[at + 2]!));
    }
  }

  /** Loss at these ages, and its slope along each. Powers by way of the logarithm take a third of the time of `**`. */
  private lossOf(s: Vector, slope: Vector): number {
    const { k, w, level } = this;
    let L = 0;
    for (let m = 0; m < this.n; m++) {
      const age = s[m]!;
      const z = w[m]!;
      const factor = level * k[m]!;
      slope[m] = 0;
      if (!(age > 0)) continue;
      if (!Number.isNaN(z)) {
        const part = factor * Math.exp(z * Math.log(age));
        slope[m] = (z * part) / age;
        L += part;
      } else {
        const part = this.other(m, age);
        slope[m] = (factor * (this.other(m, 1.001 * age) - part)) / (0.001 * age);
        L += factor * part;
      }
    }
    return L;
  }

  /** Part of the step at hand after which the loss is so great: Newton's way, halved where it would leave the step. */
  private partTo(mark: number, L0: number, L2: number, h: number): number {
    const { n, s0, s2, r0, r2, slope1 } = this;
    let low = 0;
    let high = 1;
    let part = (mark - L0) / (L2 - L0);
    for (let guess = 0; guess < 60; guess++) {
      const off = this.lossWithin(part, h) - mark;
      if (Math.abs(off) < 1e-10 * mark) break;
      if (off > 0) high = part;
      else low = part;
      const rest = 1 - part;
      let steep = 0;
      for (let m = 0; m < n; m++) {
        const gain = s2[m]! - s0[m]!;
        const a = h * r0[m]! - gain;
        const b = h * r2[m]! - gain;
        steep += slope1[m]! * (gain + (rest - part) * (rest * a - part * b) - part * rest * (a + b));
      }
      const next = part - off / steep;
      part = next > low && next < high ? next : (low + high) / 2;
    }
    return part;
  }

  private lossWithin(part: number, h: number): number {
    this.agesWithin(part, h, this.between);
    return this.lossOf(this.between, this.slope1);
  }

  /** Ages at a part of the step at hand, on the cubic through both its ends. */
  private agesWithin(part: number, h: number, into: Vector): void {
    const { s0, s2, r0, r2 } = this;
    const rest = 1 - part;
    for (let m = 0; m < this.n; m++) {
      const gain = s2[m]! - s0[m]!;
      const bend = rest * (h * r0[m]! - gain) - part * (h * r2[m]! - gain);
      into[m] = s0[m]! + part * (gain + rest * bend);
    }
  }

  /** About when a life would end if its use stayed what it is when new. It sets the steps and nothing else. */
  private spanTo(A: Vector, from: number): number {
    let sum = 0;
    for (let m = 0; m < this.n; m++) {
      const rate = A[from + 3 * m]!;
      const share = endLoss / (this.level * this.k[m]!);
      const z = this.w[m]!;
      const own = Number.isNaN(z) ? share / this.other(m, rate) : share ** (1 / z) / rate;
      if (own > 0) sum += 1 / Math.sqrt(own);
    }
    return 1 / (sum * sum);
  }

  /** Exponent in time that the loss has about then. */
  private bendAt(A: Vector, from: number, years: number): number {
    const slope = this.slope1;
    for (let m = 0; m < this.n; m++) this.between[m] = A[from + 3 * m]! * years;
    const L = this.lossOf(this.between, slope);
    let sum = 0;
    for (let m = 0; m < this.n; m++) sum += slope[m]! * this.between[m]!;
    return L > 0 && sum > 0 ? sum / L : 0.5;
  }
}

function heldYears(years: number): number {
  return Math.max(shortestLife_years, Math.min(longestLife_years, years));
}
