import { found, OutOfRangeError, type Result, refused } from '../../measure/index.js';
import { findRoot, type MonotoneCurve, passMonotone } from '../../numerics/index.js';
import type { Chemistry } from '../models/ageing-model.js';
import {
  ironPhosphatePotential_V,
  nmc811Potential_V,
  siliconGraphitePotential_V,
} from './electrode-potentials.js';

/** Voltage of a resting cell against its state of charge. */
export interface OpenCircuit {
  readonly title: string;
  readonly source: string;
  /** Full charge, volts per cell. */
  readonly full_V: number;
  /** False where the curve is so flat that a voltage says nothing about the charge. */
  readonly tellsCharge: boolean;
  /** @param charge 0 to 1 of a full charge; values beyond are held at the ends */
  voltageAt(charge: number): number;
}

const clampShare = (charge: number) => Math.min(1, Math.max(0, charge));

function throughTable(
  facts: Pick<OpenCircuit, 'title' | 'source' | 'full_V'>,
  charges: readonly number[],
  volts: readonly number[],
): OpenCircuit & { readonly curve: MonotoneCurve } {
  const curve = passMonotone(charges, volts);
  return { ...facts, tellsCharge: true, curve, voltageAt: (charge) => curve.at(clampShare(charge)) };
}

/** @source [AI-20] half-cell tables of a 2.28 Ah pouch, window solved so that the ends read 3.0 and 4.2 V */
const cobaltOxide = throughTable(
  { title: 'LCO/graphite pouch', source: '[AI-20]', full_V: 4.2 },
  [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.55, 0.6, 0.65, 0.7, 0.8, 0.9, 1],
  [
    3.0, 3.53532, 3.63911, 3.69534, 3.73309, 3.76216, 3.79253, 3.81219, 3.83647, 3.86757, 3.90887, 3.99444,
    4.08795, 4.2,
  ],
);

const raised_V = 4.35;

/**
 * The curve of cobalt oxide drawn on past 4.20 V with its last slope: such a cell holds more before it is called full.
 * @assumed no table of a raised-voltage cell was at hand; at 4.25 V it is within 5 mV of one solved from half cells
 */
function raiseVoltage(): OpenCircuit {
  const slope = cobaltOxide.curve.slopeAt(1);
  const most = 1 + (raised_V - cobaltOxide.full_V) / slope;
  return {
    title: 'raised-voltage LCO/graphite, drawn on from the curve to 4.20 V',
    source: '[AI-20]',
    full_V: raised_V,
    tellsCharge: true,
    voltageAt(charge) {
      const old = clampShare(charge) * most;
      return old <= 1 ? cobaltOxide.voltageAt(old) : cobaltOxide.full_V + slope * (old - 1);
    },
  };
}

/** @source [SCHMALSTIEG-14] Fig. 1 as digitised by others; its top is 4.162 V, though the cell is charged to 4.2 V */
const nmc111 = throughTable(
  { title: 'NMC111/graphite', source: '[SCHMALSTIEG-14]', full_V: 4.2 },
  [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
  [3.331, 3.49102, 3.58121, 3.62672, 3.65524, 3.69742, 3.77471, 3.86876, 3.9649, 4.07302, 4.162],
);

/** Window of charge between 2.5 and 4.2 V. @source [CHEN-20] */
const nmc811Window = { x: [0.02634579, 0.91061805], y: [0.85397467, 0.26384522] } as const;

/** @source [CHEN-20] NMC811 against graphite with silicon oxide, 21700 */
export const nmc811: OpenCircuit = {
  title: 'NMC811/graphite-SiO',
  source: '[CHEN-20]',
  full_V: 4.2,
  tellsCharge: true,
  voltageAt(charge) {
    const share = clampShare(charge);
    const at = ([empty, full]: readonly [number, number]) => empty + share * (full - empty);
    return nmc811Potential_V(at(nmc811Window.y)) - siliconGraphitePotential_V(at(nmc811Window.x));
  },
};

/**
 * @source [AFSHAR-17] the positive electrode
 * @assumed graphite 0.1 V above lithium throughout, electrode used from 5 to 95 %; good to about 50 mV, and no model here asks for it
 */
const ironPhosphate: OpenCircuit = {
  title: 'LFP/graphite',
  source: '[AFSHAR-17]',
  full_V: 3.65,
  tellsCharge: false,
  voltageAt: (charge) => ironPhosphatePotential_V(0.95 - 0.9 * clampShare(charge)) - 0.1,
};

const curves: Readonly<Record<Chemistry, OpenCircuit>> = {
  LCO: cobaltOxide,
  LiHV: raiseVoltage(),
  NMC: nmc111,
  'NMC+LMO': nmc111,
  NCA: nmc811,
  LMO: nmc111,
  LFP: ironPhosphate,
};

/** The curve used for a chemistry; NMC+LMO and LMO borrow that of NMC111, NCA that of NMC811, for want of their own. */
export function openCircuitOf(chemistry: Chemistry): OpenCircuit {
  return curves[chemistry];
}

/** Lowest charge limit that is a limit and not a storage charge. @assumed; chargers are set from about 4.05 V upwards */
const leastLimit = 0.3;

export interface LimitRefusal {
  readonly kind: 'limit-outside' | 'voltage-says-nothing';
  readonly limit_V: number;
  readonly allowed_V: readonly [number, number];
  readonly remedy: string;
}

/**
 * The state of charge at which a cell rests after charging to a voltage: what a lower charge limit leaves of the capacity.
 *
 * A resting voltage is meant: under current the same voltage means less charge. Iron phosphate is flat, and its voltage says nothing.
 *
 * @param limit_V volts per cell
 * @returns the charge, 0.3 to 1, or why there is none
 * @source derived here: the curve of `openCircuitOf`, inverted
 */
export function chargeAtVoltage(chemistry: Chemistry, limit_V: number): Result<number, LimitRefusal> {
  const curve = openCircuitOf(chemistry);
  const allowed_V = [curve.voltageAt(leastLimit), curve.full_V] as const;
  if (!Number.isFinite(limit_V))
    throw new OutOfRangeError('limit_V', limit_V, [2, 5], 'Is it volts per cell?');
  if (limit_V > curve.full_V || limit_V < allowed_V[0]) {
    const perPack = limit_V > 5 ? ' Is it the voltage of the whole pack? It is meant for one cell.' : '';
    return refused({
      kind: 'limit-outside',
      limit_V,
      allowed_V,
      remedy:
        limit_V > curve.full_V
          ? `Cells of ${curve.title} are charged to at most ${curve.full_V.toFixed(2)} V, and the duty has ${limit_V} V: a charger that goes higher overcharges them, which can set them on fire.${perPack}`
          : `At ${limit_V} V cells of ${curve.title} hold next to nothing: give a charge limit of ${allowed_V[0].toFixed(2)} to ${curve.full_V.toFixed(2)} V.`,
    });
  }
  if (!curve.tellsCharge && limit_V < curve.full_V) {
    return refused({
      kind: 'voltage-says-nothing',
      limit_V,
      allowed_V,
      remedy:
        'The voltage of this chemistry hardly changes with charge. Give the limit as a share of a full charge.',
    });
  }
  return found(invert(curve, limit_V));
}

/** Bisection by way of a secant slope: the curve only rises. */
function invert(curve: OpenCircuit, limit_V: number): number {
  if (limit_V >= curve.voltageAt(1)) return 1;
  const step = 1e-4;
  return findRoot(
    (charge) => curve.voltageAt(charge) - limit_V,
    (charge) => (curve.voltageAt(charge + step) - curve.voltageAt(charge - step)) / (2 * step),
    0.8,
    [0, 1],
  );
}
