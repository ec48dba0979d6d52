/** Heat: what would an untried set-up do? Steady and passing temperatures of a device made of boxes. */

export {
  type AssessHeatOptions,
  type Calibrated,
  type FittedRise,
  type HeatAssessment,
  HeatBench,
  type NoHeat,
  type PredictedSetup,
} from './assess-heat.js';
export { leavesSoaked } from './calibrate/beyond.js';
export type { PredictedRise, Use } from './calibrate/predict.js';
export { findGeometryFaults } from './device/check-geometry.js';
export { type DeviceModel, makeDeviceModel } from './device/device-model.js';
export type { PlaceRise } from './device/find-places.js';
export { coarsen, type GridWish, soakGrid, usualGrid } from './device/lay-grid.js';
export { applyReading, placeOfProbe, readingAt } from './device/read-field.js';
export { type DeviceField, DeviceSolver, type NoDeviceField } from './device/solve-device.js';
export { type Candidate, measureLayers } from './explore/candidate.js';
export { type ConcludeOptions, concludeExploration } from './explore/conclude.js';
export type {
  Exploration,
  Finalist,
  RankedCandidate,
  StripsEffect,
  StripsPair,
} from './explore/exploration.js';
export { chunkLength, ExploreJob, type ExploreState, rankStepwise } from './explore/job.js';
export { findLevers, type Lever } from './explore/levers.js';
export { paretoFront } from './explore/pareto.js';
export { type RankedRises, Ranker, type RankingBasis, rankingBasis } from './explore/rank.js';
export type { QuickRises } from './explore/read-rises.js';
export { roleOf, type Stock, type StockRole, stockMaterials, usualStock } from './explore/stock.js';
export {
  shortFront,
  tellCounts,
  tellExploration,
  tellLevers,
  tellModelError,
  tellStrips,
} from './explore/tell-explore.js';
export { type ExplorePlan, planExploration } from './explore/think-of.js';
export {
  checkWish,
  type ExploreWish,
  type Family,
  families,
  type Room,
  usualReserve,
  usualWish,
} from './explore/wish.js';
export {
  type HeatAnswers,
  type HeatInputs,
  type HeatWork,
  HeatWorker,
  type HeatWorkOptions,
} from './explore/work.js';
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
export { predictMargins } from './predicted-margins.js';
export {
  calibrateHeat,
  calibrationKey,
  hasHeatData,
} from './show/calibrate-heat.js';
export { judgePlaces, type PredictedMargin } from './show/judge-places.js';
export { planeWords, presentFieldPlan, presentFieldSection } from './show/present-field.js';
export {
  type DoubtRow,
  type FittedRow,
  factorWords,
  type HeatView,
  type MarkedFigure,
  type PredictionTable,
  presentHeat,
} from './show/present-heat.js';
export { type TrustRow, useWords } from './show/present-trust.js';
export { type HeatReport, reportHeat } from './show/report-heat.js';
export type { FieldSlice, PlaneName } from './show/slice-field.js';
export { boundOnLevel, explainNoHeat, type HeatWords, heatState, tellHeat } from './show/tell-heat.js';
export { type SetupWish, type ShownPart, type ShownSetup, TryBench } from './show/try-setup.js';
export { type FaceFilms, type FaceName, faceNames, faceSinks_W_per_K } from './solve/faces.js';
export { type CellConductivity, cellLimit, type HeatGrid } from './solve/grid.js';
export {
  type CoefficientsAt,
  iterateSolve,
  type NotSettled,
  type SettledField,
  type SettleOptions,
} from './solve/iterate.js';
export {
  assembleNetwork,
  type ContactResistance,
  type GridLines,
  type HeatNetwork,
} from './solve/network.js';
export {
  type HeatSolver,
  type NoField,
  prepareSolver,
  type SolveOptions,
  type SteadyField,
} from './solve/solver.js';
export { HelperLostError, type HelperThreads, type HelpWanted, lendThreads } from './solve/threads.js';
export {
  type CellProbe,
  type NoTransient,
  type PhaseSource,
  solveTransient,
  type TransientField,
  type TransientOptions,
  type TransientPhase,
} from './solve/transient.js';
export { helpSolver } from './solve/wasm/help-solver.js';
