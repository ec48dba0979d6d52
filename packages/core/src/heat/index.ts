/** Heat: what would an untried set-up do? Steady and passing temperatures of a device made of boxes. */

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
export {
  type CellProbe,
  type NoTransient,
  type PhaseSource,
  solveTransient,
  type TransientField,
  type TransientOptions,
  type TransientPhase,
} from './solve/transient.js';
