/** Heat that a pack makes of its own when it gives or takes current. */
import {
  found,
  kelvinFromCelsius,
  OutOfRangeError,
  type Result,
  refused,
  voltsFromMillivolts,
} from '../../measure/index.js';

export interface PackCells {
  /** Cells in series, and strings beside each other. */
  readonly series: number;
  readonly parallel: number;
  /** Of one cell. Grows with age, and two to four times in the cold. */
  readonly cell_ohm: number;
  /** Of one cell at rest, at its present charge. */
  readonly openCircuit_V: number;
  /** Change of one cell's resting voltage per kelvin; null where nobody knows, and the reversible part with it. */
  readonly entropy_mV_per_K: number | null;
}

export interface PackHeat {
  /** Positive where the pack gives current. */
  readonly current_A: number;
  readonly terminal_V: number;
  /** Current squared times resistance: never negative. */
  readonly irreversible_W: number;
  /** Heat of the reactions, of either sign; null where the entropy is not known. */
  readonly reversible_W: number | null;
  /** Both together; null where one of them is not known. */
  readonly total_W: number | null;
}

/** The pack cannot give so much power at any current. */
export interface BeyondPack {
  readonly kind: 'beyond-pack';
  readonly most_W: number;
}

/**
 * Heat of a pack from which a device draws a given power.
 *
 * Ohmic, and reversible where the entropy is known; heat of mixing and side reactions are left out. At the few watts of a hand-held device the
 * reversible part is as large as the other, so a run has to note the charge. What the device sends into the pack is mostly more than this.
 *
 * @param cells counts from 1, resistance and voltage above 0
 * @param power_W drawn at the terminals, 0 or more
 * @param temp_C of the cells
 * @returns the smaller of the two currents that give this power, or how much power there is at most
 * @throws OutOfRangeError for counts, resistance, voltage or a negative power
 * @source [BERNARDI-85] energy balance of a cell, from memory; the current from U I - R I² = P
 */
export function packHeatAtPower(
  cells: PackCells,
  power_W: number,
  temp_C: number,
): Result<PackHeat, BeyondPack> {
  checkCells(cells);
  if (!(power_W >= 0)) {
    throw new OutOfRangeError(
      'power_W',
      power_W,
      [0, Number.POSITIVE_INFINITY],
      'For charging give the current.',
    );
  }
  const rest_V = cells.series * cells.openCircuit_V;
  const pack_ohm = (cells.cell_ohm * cells.series) / cells.parallel;
  const most_W = rest_V ** 2 / (4 * pack_ohm);
  if (power_W > most_W) return refused({ kind: 'beyond-pack', most_W });
  // Written so that nothing cancels where the power is small.
  const current_A = (2 * power_W) / (rest_V + Math.sqrt(rest_V ** 2 - 4 * pack_ohm * power_W));
  return found(packHeatAtCurrent(cells, current_A, temp_C));
}

/**
 * Heat of a pack at a given current; charging is a negative one, and may cool the pack in its middle.
 *
 * @param cells counts from 1, resistance and voltage above 0
 * @param current_A of the pack, positive where it gives current
 * @param temp_C of the cells
 * @throws OutOfRangeError for counts, resistance or voltage
 * @source [BERNARDI-85] from memory: I² R - I T dU/dT, over all cells
 */
export function packHeatAtCurrent(cells: PackCells, current_A: number, temp_C: number): PackHeat {
  checkCells(cells);
  const { series, parallel, cell_ohm, openCircuit_V, entropy_mV_per_K } = cells;
  const pack_ohm = (cell_ohm * series) / parallel;
  const irreversible_W = current_A ** 2 * pack_ohm;
  // Strings share the current, so the sum over cells is that of one string at the whole current.
  const reversible_W =
    entropy_mV_per_K === null
      ? null
      : -series * current_A * kelvinFromCelsius(temp_C) * voltsFromMillivolts(entropy_mV_per_K);
  return {
    current_A,
    terminal_V: series * openCircuit_V - current_A * pack_ohm,
    irreversible_W,
    reversible_W,
    total_W: reversible_W === null ? null : irreversible_W + reversible_W,
  };
}

/**
 * Change of a lithium cobalt oxide cell's resting voltage per kelvin, by its charge in twentieths or tenths from 5 % to full. Fits to half-cells
 * of one pouch cell; below 5 % they are not reliable.
 *
 * @source [AI-20] second hand, recomputed from its fits for a cell between 3.00 and 4.20 V
 */
const cobaltEntropy: readonly (readonly [charge: number, entropy_mV_per_K: number])[] = [
  [0.05, -0.7057],
  [0.1, -0.5342],
  [0.2, -0.4786],
  [0.3, -0.3722],
  [0.4, -0.3068],
  [0.5, -0.2482],
  [0.6, -0.2482],
  [0.7, -0.2047],
  [0.8, -0.1528],
  [0.9, -0.0966],
  [1, -0.0459],
];

/** How far another cell of the same kind may be from it: [HUANG-06] has 0.26 mV/K more at full charge. @assumed one standard deviation */
export const cobaltEntropyDoubt_mV_per_K = 0.2;

/** Why there is no entropy: the cell is emptier than the fits reach. */
export interface ChargeNotCovered {
  readonly kind: 'charge-not-covered';
  readonly from: number;
}

/**
 * Change of the resting voltage per kelvin for a lithium cobalt oxide cell, as an estimate for want of a measured one.
 *
 * Other chemistries differ in size and sign: for iron phosphate and nickel-rich cells give a figure of their own, or null.
 *
 * @param charge 0 empty to 1 full
 * @throws OutOfRangeError outside 0 to 1
 * @source [AI-20] straight between its points
 */
export function cobaltEntropy_mV_per_K(charge: number): Result<number, ChargeNotCovered> {
  if (!(charge >= 0 && charge <= 1))
    throw new OutOfRangeError('charge', charge, [0, 1], 'Is it in per cent?');
  const upper = cobaltEntropy.findIndex(([place]) => place >= charge);
  const [to, above] = cobaltEntropy[upper] as readonly [number, number];
  if (to === charge) return found(above);
  const lower = cobaltEntropy[upper - 1];
  if (lower === undefined) return refused({ kind: 'charge-not-covered', from: to });
  const [from, below] = lower;
  return found(below + ((above - below) * (charge - from)) / (to - from));
}

function checkCells({ series, parallel, cell_ohm, openCircuit_V }: PackCells): void {
  for (const [name, count] of Object.entries({ series, parallel })) {
    if (!(Number.isInteger(count) && count >= 1))
      throw new OutOfRangeError(name, count, [1, Number.POSITIVE_INFINITY]);
  }
  if (!(cell_ohm > 0 && cell_ohm <= 10))
    throw new OutOfRangeError('cell_ohm', cell_ohm, [0, 10], 'Is it in ohms?');
  if (!(openCircuit_V > 0 && openCircuit_V <= 5)) {
    throw new OutOfRangeError('openCircuit_V', openCircuit_V, [0, 5], 'Give the voltage of one cell.');
  }
}
