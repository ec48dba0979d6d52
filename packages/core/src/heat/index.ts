/** Heat: what would an untried set-up do? */

export { type Air, type AirTrend, airAt, airConductivitySpread, airTrendAt } from './physics/air.js';
export {
  type GapAttitude,
  type GapConvection,
  gapConvection,
  thickestStillGap_mm,
} from './physics/gap-convection.js';
export {
  type SeriesEffort,
  type StackAnswer,
  type StackQuery,
  type StackRise,
  solveLayeredStack,
} from './physics/layered-series.js';
export type {
  LayeredStack,
  Rectangle,
  StackLayer,
  StackPlane,
  StackSource,
} from './physics/layered-stack.js';
export {
  type Attitude,
  type LowerFaceLaw,
  type NaturalConvection,
  naturalConvection,
  naturalConvectionSpread,
  plateLength_mm,
  uprightNusselt,
} from './physics/natural-convection.js';
export {
  type Convection,
  type FaceLoss,
  faceLoss,
  type OutsideFace,
  surfaceTemperature_C,
} from './physics/outside-film.js';
export {
  type BeyondPack,
  type ChargeNotCovered,
  cobaltEntropy_mV_per_K,
  cobaltEntropyDoubt_mV_per_K,
  type PackCells,
  type PackHeat,
  packHeatAtCurrent,
  packHeatAtPower,
} from './physics/pack-heat.js';
export { type FaceSize, findPlacement, type Placement, placements } from './physics/placements.js';
export {
  effectiveEmissivity,
  radiationConductance_W_per_m2K,
  radiationFlux_W_per_m2,
  radiationSlope_W_per_m2K,
  shieldedEmissivity,
  stefanBoltzmann_W_per_m2K4,
} from './physics/radiation.js';
export { rayleighNumber } from './physics/rayleigh.js';
export { riseAlong, type Spreader, spreadingLength_mm, stripEfficiency } from './physics/spreader.js';
export {
  bridgedGap_W_per_m2K,
  type Gap,
  type GapConductance,
  type GapFlux,
  gapConductance,
  gapConductivity,
  gapDifference_K,
  gapFlux,
} from './physics/thin-gap.js';
export { type TouchedSurface, type TouchLimit, touchLimits, touchLimitsFor } from './physics/touch-limits.js';
