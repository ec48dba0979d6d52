import { describe, expect, test } from 'vitest';
import {
  cobaltOxidePotential_V,
  graphitePotential_V,
  ironPhosphatePotential_V,
} from './electrode-potentials.js';
import { chargeAtVoltage, nmc811, openCircuitOf } from './open-circuit.js';

// Coefficients as two public parameter sets have them; potentials worked out outside to six decimals.
test.each([
  { x: 0.8, y: 0.6, negative: 0.175193, positive: 4.027014 },
  { x: 0.5, y: 0.75, negative: 0.195377, positive: 3.921367 },
  { x: 0.1, y: 0.95, negative: 0.301025, positive: 3.721129 },
])('electrodes of [MARQUIS-19] at $x and $y', ({ x, y, negative, positive }) => {
  expect(graphitePotential_V(x)).toBeCloseTo(negative, 6);
  expect(cobaltOxidePotential_V(y)).toBeCloseTo(positive, 6);
});

test.each([
  [0.05, 3.406963],
  [0.5, 3.397565],
  [0.9, 3.34465],
  [0.98, 2.893906],
])('iron phosphate of [AFSHAR-17] at %d', (y, volts) => {
  expect(ironPhosphatePotential_V(y)).toBeCloseTo(volts, 6);
});

test('NMC811 of [CHEN-20] over its window', () => {
  const printed = [2.5, 3.29591, 3.48519, 3.58145, 3.66701, 3.75087, 3.84058, 3.94791, 4.04208, 4.09666, 4.2];
  // The window is given to eight digits and its ends are steep.
  for (const [i, volts] of printed.entries()) expect(nmc811.voltageAt(i / 10)).toBeCloseTo(volts, 4);
});

describe('charge from a resting voltage', () => {
  // From the same half-cell tables, interpolated straight between their points and inverted outside; 2 mV between that and a cubic, over
  // the slope of the curve, is up to half a per cent of charge.
  test.each([
    { volts: 3.8, charge: 0.52018 },
    { volts: 3.9, charge: 0.68991 },
    { volts: 4.0, charge: 0.80624 },
    { volts: 4.05, charge: 0.85993 },
    { volts: 4.1, charge: 0.91217 },
    { volts: 4.15, charge: 0.96124 },
  ])('cobalt oxide at $volts V', ({ volts, charge }) => {
    const result = chargeAtVoltage('LCO', volts);
    expect(result.ok && Math.abs(result.value - charge)).toBeLessThan(0.006);
  });

  // The half-charge of the same window, which is what pack heat is reckoned with, and the mean over it.
  test('cobalt oxide passes through its table, and its mean is that of the half cells', () => {
    const { voltageAt } = openCircuitOf('LCO');
    expect(voltageAt(0.5)).toBeCloseTo(3.79253, 12);
    expect(voltageAt(1)).toBe(4.2);
    let sum = 0;
    for (let i = 0; i < 1000; i++) sum += voltageAt((i + 0.5) / 1000) / 1000;
    expect(Math.abs(sum - 3.82008)).toBeLessThan(0.002); // printed for straight lines through finer tables
  });

  test('a cell charged to a raised voltage holds more: at 4.25 V it is 3 % past the old full charge', () => {
    const full = chargeAtVoltage('LiHV', 4.2);
    const more = chargeAtVoltage('LiHV', 4.25);
    if (!full.ok || !more.ok) throw new Error('refused');
    expect(more.value / full.value).toBeCloseTo(1.0305, 1);
    expect(Math.abs(more.value / full.value - 1.0305)).toBeLessThan(0.015);
  });

  test('a limit above the chemistry’s full charge is refused, as is one that is no limit any more', () => {
    for (const [chemistry, volts] of [
      ['LCO', 4.35],
      ['LCO', 3.5],
      ['LFP', 4.2],
      ['NMC', 8.4],
    ] as const) {
      const result = chargeAtVoltage(chemistry, volts);
      expect(result.ok ? '' : result.reason.kind).toBe('limit-outside');
    }
    const pack = chargeAtVoltage('NMC', 8.4);
    expect(pack.ok ? '' : pack.reason.remedy).toContain('one cell');
  });

  test('iron phosphate is flat: its voltage says nothing', () => {
    const result = chargeAtVoltage('LFP', 3.4);
    expect(result.ok ? '' : result.reason.kind).toBe('voltage-says-nothing');
    const { voltageAt } = openCircuitOf('LFP');
    expect(voltageAt(0.8) - voltageAt(0.2)).toBeLessThan(0.03);
  });

  test('every curve only rises', () => {
    for (const chemistry of ['LCO', 'LiHV', 'NMC', 'NCA', 'LFP'] as const) {
      const { voltageAt } = openCircuitOf(chemistry);
      for (let i = 1; i <= 200; i++) expect(voltageAt(i / 200)).toBeGreaterThan(voltageAt((i - 1) / 200));
    }
  });
});
