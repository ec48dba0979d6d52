/** Numerics: pure mathematics that has never heard of heat. */

export { adjustHolm } from './adjust-p.js';
export { chanceOfLeast } from './chance-of-least.js';
export { compileWasm } from './compile-wasm.js';
export { type CountedCycle, countCycles } from './count-cycles.js';
export * from './distributions.js';
export { findRoot } from './find-root.js';
export * from './gamma-beta.js';
export { type LeastSquares, solveLeastSquares, solveWeighted, solveWithCovariance } from './least-squares.js';
export {
  fitMixedModel,
  type Grouping,
  type MixedContrast,
  type MixedFit,
  type MixedModel,
} from './mixed-model.js';
export { invertSymmetric } from './mixed-model.kernel.js';
export { type MonotoneCurve, passMonotone } from './monotone-cubic.js';
export { makeNoise, makeRedNoise, type Noise } from './noise.js';
export { noncentralTCdf, tTestPower } from './noncentral-t.js';
export { polynomialAt, polynomialSlopeAt } from './polynomial.js';
export * from './quadrature.js';
export { describeSeparable, fitSeparable, type SeparableFit, type SeparableModel } from './separable-fit.js';
export {
  correlationTime,
  lagOneCorrelation,
  mean,
  meanInflation,
  median,
  standardDeviation,
} from './series-statistics.js';
export * from './simultaneous.js';
