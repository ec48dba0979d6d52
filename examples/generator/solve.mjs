/**
 * Symmetric positive definite systems whose rows fill only a strip beside the diagonal.
 *
 * @typedef {object} Strip
 * @property {Int32Array} first column of the first element kept in each row; each row ends at the diagonal
 * @property {Int32Array} offset element (row, column) stands at `offset[row] + column`
 * @property {Float64Array} values
 */

/** An empty strip. @param {Int32Array} first @returns {Strip} */
export function makeStrip(first) {
  const offset = new Int32Array(first.length);
  let end = 0;
  for (let row = 0; row < first.length; row++) {
    offset[row] = end - first[row];
    end += row - first[row] + 1;
  }
  return { first, offset, values: new Float64Array(end) };
}

/**
 * Cholesky's factor L with L L' = A. It fills nothing outside the strip.
 *
 * @param {Strip} matrix
 * @returns {Strip}
 */
export function factorStrip({ first, offset, values }) {
  const out = Float64Array.from(values);
  for (let i = 0; i < first.length; i++) {
    const row = offset[i];
    const start = first[i];
    for (let j = start; j < i; j++) {
      const other = offset[j];
      let sum = out[row + j];
      for (let k = Math.max(start, first[j]); k < j; k++) sum -= out[row + k] * out[other + k];
      out[row + j] = sum / out[other + j];
    }
    let rest = out[row + i];
    for (let k = start; k < i; k++) rest -= out[row + k] * out[row + k];
    out[row + i] = Math.sqrt(rest);
  }
  return { first, offset, values: out };
}

/** Solves L L' x = b. @param {Strip} factor @param {Float64Array} right @returns {Float64Array} */
export function solveStrip({ first, offset, values }, right) {
  const x = right.slice();
  for (let i = 0; i < x.length; i++) {
    const row = offset[i];
    let sum = x[i];
    for (let k = first[i]; k < i; k++) sum -= values[row + k] * x[k];
    x[i] = sum / values[row + i];
  }
  for (let i = x.length - 1; i >= 0; i--) {
    const row = offset[i];
    const value = x[i] / values[row + i];
    x[i] = value;
    for (let k = first[i]; k < i; k++) x[k] -= values[row + k] * value;
  }
  return x;
}

/** A x. @param {Strip} matrix @param {Float64Array} x @returns {Float64Array} */
export function timesStrip({ first, offset, values }, x) {
  const out = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) {
    const row = offset[i];
    let sum = values[row + i] * x[i];
    for (let k = first[i]; k < i; k++) {
      sum += values[row + k] * x[k];
      out[k] += values[row + k] * x[i];
    }
    out[i] += sum;
  }
  return out;
}
