import {
  dot,
  fillVariance,
  invertSymmetric,
  multiply,
  projectColumns,
  solveSmall,
  subtractFixed,
  sumLevels,
  traceProduct,
  traceWithin,
} from './mixed-model.kernel.js';

/** Rows that share one random effect carry the same level. Each row on a level of its own makes it the residual. */
export type Grouping = readonly (string | number)[];

export interface MixedModel {
  /** Columns of the fixed part, all of the observations' length. */
  readonly columns: readonly Float64Array[];
  readonly observations: Float64Array;
  /** One for each variance component. */
  readonly groupings: readonly Grouping[];
  /** Variance of each row that is known beforehand, beside the components; zeros where there is none. */
  readonly known: Float64Array;
}

/** A linear function of the fixed part, with what it is uncertain by. */
export interface MixedContrast {
  readonly value: number;
  readonly u: number;
  readonly dof: number;
}

export interface MixedFit {
  /** Fixed part, one number for each column. */
  readonly fixed: Float64Array;
  /** Their covariance with the small-sample correction, row by row. */
  readonly covariance: Float64Array;
  /** Variance components, in the order of the groupings; 0 where the data ask for none. */
  readonly components: readonly number[];
  /** Approximate covariance of the components, from the expected information. */
  readonly componentCovariance: readonly (readonly number[])[];
  /** A linear function of the fixed part. @param weights one for each column */
  contrast(weights: readonly number[]): MixedContrast;
}

const mostSteps = 200;
/** Relative change of the components at which the search ends. */
const settled = 1e-12;

/**
 * Linear mixed model by restricted maximum likelihood, with small-sample inference for its fixed part.
 *
 * The variance of the observations is the known one plus one component for each grouping. Components are kept at 0 or above.
 * One that ends at 0 still counts as estimated: its doubt stays in the degrees of freedom, because dropping it after looking
 * would pretend that it was known to be absent. Covariance and degrees of freedom follow Kenward and Roger; for a single
 * contrast their degrees of freedom are those of Satterthwaite's method with the expected information, and their scale is 1.
 *
 * Made for hundreds of rows, some dozens of columns and a few components: the algebra is dense.
 *
 * @returns null where the columns are linearly dependent, nothing is left over to estimate the components from, or two
 *   components cannot be told apart
 * @source [PATTERSON-THOMPSON-71] for the likelihood; [KENWARD-ROGER-97] for covariance and degrees of freedom;
 *   [SEARLE-92] chapter 8 for scoring
 */
export function fitMixedModel({ columns, observations, groupings, known }: MixedModel): MixedFit | null {
  const rows = observations.length;
  const width = columns.length;
  if (rows <= width || groupings.length === 0) return null;
  const levels = groupings.map(numberLevels);
  const restricted = (components: readonly number[]) =>
    evaluate(columns, observations, levels, known, components);

  let components: number[] = groupings.map(() => startOf(columns, observations) / groupings.length);
  let state = restricted(components);
  if (state === null) return null;
  for (let step = 0; step < mostSteps; step++) {
    const move = scoringStep(state, components);
    if (move === null) return null;
    const next = climb(restricted, state, components, move);
    const scale = Math.max(...next.components, 1e-300);
    const change = Math.max(
      ...next.components.map((value, i) => Math.abs(value - (components[i] as number))),
    );
    ({ components, state } = next);
    if (change <= settled * scale) break;
  }
  return describe(state, levels, components);
}

interface Levels {
  readonly of: Int32Array;
  readonly count: number;
}

function numberLevels(grouping: Grouping): Levels {
  const seen = new Map<string | number, number>();
  const of = Int32Array.from(grouping, (level) => {
    const known = seen.get(level) ?? seen.size;
    seen.set(level, known);
    return known;
  });
  return { of, count: seen.size };
}

/** Mean square of the observations about the simplest fit, a size for the first guess. */
function startOf(columns: readonly Float64Array[], observations: Float64Array): number {
  const size = observations.length;
  const identity = new Float64Array(size * size);
  for (let i = 0; i < size; i++) identity[i * size + i] = 1;
  const weighted = new Float64Array(columns.length * size);
  const inverse = new Float64Array(columns.length ** 2);
  projectColumns(identity, columns, size, weighted, inverse);
  subtractFixed(identity, weighted, inverse, size, columns.length);
  const residual = new Float64Array(size);
  multiply(identity, observations, size, residual);
  return Math.max(1e-12, dot(residual, observations) / (size - columns.length));
}

/** Everything that follows from one choice of the components. */
interface State {
  readonly logLikelihood: number;
  readonly fixed: Float64Array;
  /** P of the kernel: the projection that takes the fixed part out. */
  readonly projection: Float64Array;
  /** V⁻¹ X, column after column. */
  readonly weighted: Float64Array;
  /** (XᵀV⁻¹X)⁻¹, row by row. */
  readonly unscaled: Float64Array;
  /** Slope of the likelihood in each component. */
  readonly score: readonly number[];
  /** Expected information about the components. */
  readonly information: readonly (readonly number[])[];
}

function evaluate(
  columns: readonly Float64Array[],
  observations: Float64Array,
  levels: readonly Levels[],
  known: Float64Array,
  components: readonly number[],
): State | null {
  const rows = observations.length;
  const width = columns.length;
  const projection = new Float64Array(rows * rows);
  fillVariance(
    projection,
    known,
    levels.map(({ of }) => of),
    components,
  );
  const logDet = invertSymmetric(projection, rows);
  const weighted = new Float64Array(width * rows);
  const unscaled = new Float64Array(width * width);
  const logDetFixed = projectColumns(projection, columns, rows, weighted, unscaled);
  if (!Number.isFinite(logDet + logDetFixed)) return null;
  const fixed = new Float64Array(width);
  const moments = columns.map((_, a) => dot(weighted.subarray(a * rows, (a + 1) * rows), observations));
  for (let a = 0; a < width; a++)
    for (let b = 0; b < width; b++)
      fixed[a] = (fixed[a] as number) + (unscaled[a * width + b] as number) * (moments[b] as number);
  subtractFixed(projection, weighted, unscaled, rows, width);
  const projected = new Float64Array(rows);
  multiply(projection, observations, rows, projected);
  const score = levels.map(
    ({ of, count }) =>
      -0.5 * (traceWithin(projection, rows, of) - dot(projected, sumLevels(of, count, projected))),
  );
  const information = levels.map((one) =>
    levels.map((other) => 0.5 * traceProduct(projection, rows, one.of, one.count, other.of, other.count)),
  );
  return {
    logLikelihood: -0.5 * (logDet + logDetFixed + dot(projected, observations)),
    fixed,
    projection,
    weighted,
    unscaled,
    score,
    information,
  };
}

/** Fisher's scoring step among the components that are free to move; those at 0 that want to fall stay. */
function scoringStep({ score, information }: State, components: readonly number[]): number[] | null {
  let free = components.map((_, i) => i);
  const step = components.map(() => 0);
  const whole = solveSmall(information, score);
  if (whole === null) return null;
  free = free.filter((i) => !((components[i] as number) <= 0 && (score[i] as number) <= 0));
  for (;;) {
    if (free.length === 0) return step;
    const solution = solveSmall(
      free.map((i) => free.map((j) => information[i]?.[j] as number)),
      free.map((i) => score[i] as number),
    );
    if (solution === null) return null;
    // A component that stands at 0 and is pushed below it is taken out, and the others are asked again.
    const blocked = free.filter((i, at) => (components[i] as number) <= 0 && (solution[at] as number) < 0);
    if (blocked.length === 0) {
      free.forEach((i, at) => {
        step[i] = solution[at] as number;
      });
      return step;
    }
    free = free.filter((i) => !blocked.includes(i));
  }
}

/** The longest halving of the step that does not lower the likelihood, components kept at 0 or above. */
function climb(
  restricted: (components: readonly number[]) => State | null,
  state: State,
  components: readonly number[],
  step: readonly number[],
): { components: number[]; state: State } {
  for (let share = 1; share > 1e-10; share /= 2) {
    const moved = components.map((value, i) => Math.max(0, value + share * (step[i] as number)));
    const next = restricted(moved);
    // The allowance is the rounding of the likelihood itself: near the top every step is as good as the last.
    if (next !== null && next.logLikelihood >= state.logLikelihood - 1e-13 * Math.abs(state.logLikelihood))
      return { components: moved, state: next };
  }
  return { components: [...components], state };
}

function describe(state: State, levels: readonly Levels[], components: readonly number[]): MixedFit | null {
  const { fixed, projection, weighted, unscaled, information } = state;
  const width = fixed.length;
  const rows = weighted.length / width;
  const componentCovariance = invert(information);
  if (componentCovariance === null) return null;
  // Columns of V⁻¹X summed over the levels of each component: K V⁻¹ X.
  const column = (matrix: Float64Array, a: number) => matrix.subarray(a * rows, (a + 1) * rows);
  const summed = levels.map(({ of, count }) =>
    Array.from({ length: width }, (_, a) => sumLevels(of, count, column(weighted, a))),
  );
  const correction = correctionOf(summed, projection, componentCovariance, rows);
  const covariance = new Float64Array(width * width);
  for (let a = 0; a < width; a++) {
    for (let b = 0; b < width; b++) {
      let extra = 0;
      for (let c = 0; c < width; c++)
        for (let d = 0; d < width; d++)
          extra +=
            (unscaled[a * width + c] as number) *
            (correction[c * width + d] as number) *
            (unscaled[d * width + b] as number);
      covariance[a * width + b] = (unscaled[a * width + b] as number) + 2 * extra;
    }
  }
  const quadratic = (matrix: Float64Array, weights: readonly number[]) => {
    let sum = 0;
    for (let a = 0; a < width; a++)
      for (let b = 0; b < width; b++)
        sum += (weights[a] as number) * (weights[b] as number) * (matrix[a * width + b] as number);
    return sum;
  };
  return {
    fixed,
    covariance,
    components,
    componentCovariance,
    contrast(weights) {
      const value = weights.reduce((sum, weight, a) => sum + weight * (fixed[a] as number), 0);
      const plain = quadratic(unscaled, weights);
      // h = V⁻¹ X C w; the slope of the variance in a component is the sum over its levels of (sum of h)².
      const h = new Float64Array(rows);
      for (let a = 0; a < width; a++) {
        let share = 0;
        for (let b = 0; b < width; b++) share += (unscaled[a * width + b] as number) * (weights[b] as number);
        const one = column(weighted, a);
        for (let i = 0; i < rows; i++) h[i] = (h[i] as number) + share * (one[i] as number);
      }
      const slopes = levels.map(({ of, count }) => dot(h, sumLevels(of, count, h)));
      let spread = 0;
      for (const [i, one] of slopes.entries())
        for (const [j, other] of slopes.entries())
          spread += one * other * (componentCovariance[i]?.[j] as number);
      return {
        value,
        u: Math.sqrt(Math.max(0, quadratic(covariance, weights))),
        dof: spread > 0 ? (2 * plain * plain) / spread : Number.POSITIVE_INFINITY,
      };
    },
  };
}

/** Σ Wᵢⱼ (Qᵢⱼ - Pᵢ C Pⱼ) of Kenward and Roger, where the bracket is (Kᵢ V⁻¹X)ᵀ P (Kⱼ V⁻¹X). */
function correctionOf(
  summed: readonly (readonly Float64Array[])[],
  projection: Float64Array,
  componentCovariance: readonly (readonly number[])[],
  rows: number,
): Float64Array {
  const width = summed[0]?.length ?? 0;
  const result = new Float64Array(width * width);
  const projected = summed.map((all) =>
    all.map((one) => {
      const out = new Float64Array(rows);
      multiply(projection, one, rows, out);
      return out;
    }),
  );
  for (const [i, left] of summed.entries()) {
    for (const [j, right] of projected.entries()) {
      const weight = componentCovariance[i]?.[j] as number;
      for (const [a, one] of left.entries())
        for (const [b, other] of right.entries())
          result[a * width + b] = (result[a * width + b] as number) + weight * dot(one, other);
    }
  }
  return result;
}

function invert(matrix: readonly (readonly number[])[]): number[][] | null {
  const columns = matrix.map((_, j) =>
    solveSmall(
      matrix,
      matrix.map((__, i) => (i === j ? 1 : 0)),
    ),
  );
  if (columns.some((column) => column === null)) return null;
  return matrix.map((_, i) => matrix.map((__, j) => (columns[j] as number[])[i] as number));
}
