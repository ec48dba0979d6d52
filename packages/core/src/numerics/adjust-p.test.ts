import { expect, test } from 'vitest';
import { adjustHolm } from './adjust-p.js';

// R 4.2.2, p.adjust; the second list is the example of Benjamini and Hochberg (1995), the third PlantGrowth's pairs.
test.each([
  [
    [0.01, 0.02, 0.03, 0.04, 0.05],
    [0.05, 0.08, 0.09, 0.09, 0.09],
  ],
  [
    [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
      0.759, 1,
    ],
    [0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1],
  ],
  [
    [0.194387880054, 0.0876816750627, 0.00445923593821],
    [0.194387880054, 0.175363350125, 0.0133777078146],
  ],
])('%j', (values, expected) => {
  adjustHolm(values).forEach((p, i) => {
    expect(p).toBeCloseTo(expected[i] ?? Number.NaN, 11);
  });
});

test('hypotheses of which only two can be true cost a factor of two', () => {
  expect(adjustHolm([0.01, 0.04, 0.5, 0.9], 2)).toEqual([0.02, 0.08, 1, 1]);
  expect(adjustHolm([])).toEqual([]);
});
