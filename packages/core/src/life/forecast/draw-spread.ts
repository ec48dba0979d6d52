/**
 * How far a pack may be from a model, besides which model it follows. The papers give no covariances of their coefficients, so these are
 * judgements, and the bands stand or fall with them less than with the choice of the model.
 */
export interface ModelSpread {
  readonly level: number;
  readonly lentLevel: number;
  readonly energy_J_per_mol: number;
  readonly bend: number;
  readonly cell: number;
}

export const modelSpread: ModelSpread = {
  /** Of the level of a loss, as the standard deviation of its logarithm. @assumed cells of one type but of other batches; 0.15 to 0.4 */
  level: 0.25,
  /** The same for wear by cycling lent from another cell. @assumed sheets promise 300 to 800 cycles for one loss, on its square root 0.4 */
  lentLevel: 0.4,
  /** Of the activation energy of life, J/mol. @assumed a tenth of 50 kJ/mol; fits to few temperatures leave 3 to 10 */
  energy_J_per_mol: 5000,
  /** Of the exponent in time, as a share of it, turned about the first year. @assumed published ones run from 0.5 to 1.2 between models */
  bend: 0.05,
  /** Between cells of one pack, as the standard deviation of the logarithm. @assumed matched cells of one batch; 0.02 to 0.08 */
  cell: 0.04,
};

/** Of the duty, where it states none. @assumed people's hours vary by this much from month to month, and a room by a kelvin */
export const usualDoubt = { hours: 0.15, room_K: 1 } as const;

/** No deviate counts for more than this: beyond it a table would be asked where nothing was measured. */
export const mostDeviate = 4;

/** Share of its thickness that a pouch has swollen by when 20 % of its capacity are lost. @assumed common practice, no source */
export const swellingAtEnd = [0.015, 0.1] as const;
/** Share by which it breathes between empty and full. @assumed 0.5 % seen by neutrons, 2.6 % as the bound of its layers; both second hand */
export const breathing = [0.005, 0.026] as const;
