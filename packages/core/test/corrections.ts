import type { Correction } from '../src/probes/index.js';

/** A probe checked against a perfect bath: it reads the truth, to the last digit and in every mounting. Tests change what they are about. */
export function exactCorrection(probe: string, change: Partial<Correction> = {}): Correction {
  return {
    probe,
    check: 'c',
    model: 'offset',
    pivot_C: 0,
    offset_K: 0,
    gain: 1,
    own: { offset: 0, cross: 0, gain: 0 },
    shared: [],
    unknownGain_u: 0,
    reading_u_K: 0,
    drift_u_K: 0,
    attachment_u_K: 0,
    coldJunction: null,
    dof: null,
    checked_C: [0, 100],
    ...change,
  };
}
