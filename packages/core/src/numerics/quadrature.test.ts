import fc from 'fast-check';
import { expect, test } from 'vitest';
import { gaussLegendre, integrateOver } from './quadrature.js';

// [DLMF] Table 3.5.1 prints nodes and weights to 15 decimals.
test('the rule with five nodes is the printed one', () => {
  const { nodes, weights } = gaussLegendre(5);
  const printedNodes = [-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664];
  const printedWeights = [
    0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189,
  ];
  printedNodes.forEach((node, index) => {
    expect(Math.abs((nodes[index] ?? Number.NaN) - node)).toBeLessThan(1e-15);
  });
  printedWeights.forEach((weight, index) => {
    expect(Math.abs((weights[index] ?? Number.NaN) - weight)).toBeLessThan(1e-15);
  });
});

// Stated law: n nodes are exact up to degree 2 n - 1, and no further.
test.each([1, 2, 7, 20, 64, 200])('%d nodes integrate every power they should', (count) => {
  const rule = gaussLegendre(count);
  for (let degree = 0; degree < 2 * count; degree++) {
    const exact = degree % 2 === 0 ? 2 / (degree + 1) : 0;
    expect(Math.abs(integrateOver(-1, 1, rule, (at) => at ** degree) - exact)).toBeLessThan(1e-13);
  }
});

test('three nodes miss the sixth power by the known amount', () => {
  // [DLMF] 3.5(v): error coefficient 2^(2n+1) (n!)^4 / ((2n+1) ((2n)!)^3) times f^(2n), n = 3.
  // Tolerance: a dozen roundings of numbers below 1.
  const missed = 2 / 7 - integrateOver(-1, 1, gaussLegendre(3), (at) => at ** 6);
  expect(Math.abs(missed - ((2 ** 7 * 6 ** 4) / (7 * 720 ** 3)) * 720)).toBeLessThan(3e-15);
});

test('intervals add up', () => {
  const rule = gaussLegendre(24);
  fc.assert(
    fc.property(fc.double({ min: -3, max: 3, noNaN: true }), (middle) => {
      const parts = integrateOver(-3, middle, rule, Math.exp) + integrateOver(middle, 3, rule, Math.exp);
      expect(Math.abs(parts - (Math.exp(3) - Math.exp(-3)))).toBeLessThan(1e-12);
    }),
  );
});

test('a count that is no count is refused', () => {
  expect(() => gaussLegendre(0)).toThrow(/count/);
  expect(() => gaussLegendre(2.5)).toThrow(/count/);
});
