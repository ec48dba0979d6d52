import { expect, test } from 'vitest';
import { gatherReadings, type ReadingLeft } from './gather-readings.js';

const reading = (reading_C: number, more: Partial<ReadingLeft> = {}): ReadingLeft => ({
  probe: 'p',
  check: 'first',
  bath: 1,
  reference_C: 100,
  reference_u_K: 0.1,
  referenceWhy: 'boiling water',
  reading_C,
  signal: null,
  left_K: reading_C - 100,
  ...more,
});

// [JCGM-100] 4.4.3, table 1: twenty observations of a temperature; printed mean 100.145 °C, standard deviation 1.489 °C.
const table1_C = [
  96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95,
  101.11, 101.2, 101.57, 101.84, 102.36, 102.72,
];

test('the guide’s twenty readings have their printed mean and scatter', () => {
  const [bath, ...others] = gatherReadings(table1_C.map((value) => reading(value)));
  expect(others).toEqual([]);
  expect(bath?.readings_C).toEqual(table1_C);
  expect(Math.abs((bath?.mean_C ?? 0) - 100.145)).toBeLessThanOrEqual(5e-4); // printed
  expect(Math.abs((bath?.scatter_K ?? 0) - 1.489)).toBeLessThanOrEqual(5e-4); // printed
  expect(bath?.left_K).toBeCloseTo(0.145, 12); // what no correction leaves of the printed mean
});

test('probes, baths and checks stay apart, and one reading alone has no scatter', () => {
  const gathered = gatherReadings([
    reading(0.1),
    reading(0.2, { probe: 'q' }),
    reading(0.3),
    reading(0.4, { bath: 2 }),
    reading(0.5, { check: 'second' }),
  ]);
  expect(gathered.map(({ readings_C }) => readings_C)).toEqual([[0.1, 0.3], [0.2], [0.4], [0.5]]);
  expect(gathered.map(({ scatter_K }) => scatter_K !== null)).toEqual([true, false, false, false]);
});
