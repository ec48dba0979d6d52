import { chiSquareQuantile, normalQuantile, tCdf } from './distributions.js';

/** Points of the lattice: the error is then some 0.002, finer than a page prints. */
const points = 4096;
/** Roots of primes, whose multiples fill the unit cube evenly. @source [NIEDERREITER-92] section 4.1 */
const strides = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71].map(
  (prime) => Math.sqrt(prime) % 1,
);
const scaleSteps = 64;

/**
 * Chance that each of several estimates is truly the least, their errors being multivariate t: the posterior under a flat
 * prior, or how often each would come out least if the whole measurement were repeated about these values.
 *
 * Two of them are exact; more are averaged over a lattice of points that is always the same, so that the answer is too.
 *
 * @param values estimates, at most 20
 * @param covariance of the estimates, row by row
 * @param dof degrees of freedom of the covariance, above 0; `Infinity` is allowed
 * @returns one chance each; they add up to 1
 * @source [GENZ-BRETZ-09] section 5.2 for the lattice over multivariate t, [NIEDERREITER-92] for its points
 */
export function chanceOfLeast(values: readonly number[], covariance: Float64Array, dof: number): number[] {
  const count = values.length;
  if (count > strides.length)
    throw new RangeError(`values must be at most ${strides.length}, received ${count}.`);
  if (count < 2) return values.map(() => 1);
  const at = (i: number, j: number) => covariance[i * count + j] as number;
  if (count === 2) {
    const u = Math.sqrt(at(0, 0) + at(1, 1) - 2 * at(0, 1));
    const first = tCdf(((values[1] as number) - (values[0] as number)) / u, dof);
    return [first, 1 - first];
  }
  const root = choleskyOf(covariance, count);
  const normals = latticeNormals(count);
  const scales = scalesOf(dof);
  const wins = new Array<number>(count).fill(0);
  for (let point = 0; point < points; point++) {
    // The last coordinate of the lattice chooses the scale; shuffled by its own stride, it is independent of the others.
    const scale = scales[
      Math.floor((((point + 0.5) * (strides[count] ?? Math.E)) % 1) * scaleSteps)
    ] as number;
    let least = 0;
    let lowest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      let error = 0;
      for (let j = 0; j <= i; j++)
        error += (root[i * count + j] as number) * (normals[point * count + j] as number);
      const drawn = (values[i] as number) + error * scale;
      if (drawn < lowest) [lowest, least] = [drawn, i];
    }
    wins[least] = (wins[least] as number) + 1;
  }
  return wins.map((won) => won / points);
}

const known = new Map<number, Float64Array>();

/** Standard normal coordinates of the lattice, point after point; the same for every call. */
function latticeNormals(count: number): Float64Array {
  let normals = known.get(count);
  if (normals === undefined) {
    normals = Float64Array.from({ length: points * count }, (_, index) =>
      normalQuantile(((Math.floor(index / count) + 0.5) * (strides[index % count] as number)) % 1),
    );
    known.set(count, normals);
  }
  return normals;
}

/** True over estimated standard deviation in the middle of equally likely steps. */
function scalesOf(dof: number): number[] {
  return Array.from({ length: scaleSteps }, (_, step) =>
    dof === Number.POSITIVE_INFINITY ? 1 : Math.sqrt(dof / chiSquareQuantile((step + 0.5) / scaleSteps, dof)),
  );
}

function choleskyOf(matrix: Float64Array, size: number): Float64Array {
  const root = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * size + j] as number;
      for (let k = 0; k < j; k++) sum -= (root[i * size + k] as number) * (root[j * size + k] as number);
      root[i * size + j] =
        i === j
          ? Math.sqrt(Math.max(0, sum))
          : (root[j * size + j] as number) > 0
            ? sum / (root[j * size + j] as number)
            : 0;
    }
  }
  return root;
}
