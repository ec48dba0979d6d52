import { describe, expect, test } from 'vitest';
import { findDoubts } from './find-doubts.js';
import { findResolution } from './find-resolution.js';
import { RowLines } from './row-lines.js';

const level_C = (row: number) => 21.5 + row / 20;
const lines = new RowLines();
lines.note(0, 2);

function find(changed: Record<number, number>, unit: 'C' | 'F' = 'C', outside = new Map<number, number>()) {
  const reading_C = Float64Array.from({ length: 60 }, (_, row) => changed[row] ?? level_C(row));
  const column = { column: 1, header: 'pack', probe: 'pack', unit, reading_C, outside_C: outside };
  return { doubts: findDoubts([column], lines, true), reading_C };
}

describe('readings that are none', () => {
  test('are left out and listed by line', () => {
    const { doubts, reading_C } = find({ 0: 85, 30: 85, 31: 85 });
    expect(doubts).toEqual([
      {
        kind: 'power-on',
        column: 1,
        probe: 'pack',
        count: 3,
        lines: [2, 32, 33],
        example_C: 85,
        leftOut: true,
      },
    ]);
    expect([0, 30, 31].every((row) => Number.isNaN(reading_C[row]))).toBe(true);
  });

  test('a lost point is told in the unit of the log: 70.7 °F without its point is 707 °F', () => {
    // t_F = 1.8 t_C + 32 [NIST-SP811] B.9: 707 °F are 375 °C and out of range; 250 °C are 482 °F, which is 48.2 °F tenfold.
    const cold = find({}, 'F', new Map());
    expect(cold.doubts).toEqual([]);
    const lost = find({ 20: Number.NaN }, 'F', new Map([[22, 375]]));
    // 72.5 °F stand in row 20: 22.5 °C.
    expect(lost.doubts).toMatchObject([{ kind: 'lost-decimal', lines: [22], example_C: 375 }]);
  });

  test('a level that stays is a level: a probe moved to a hotter place', () => {
    const moved = Object.fromEntries(Array.from({ length: 30 }, (_, at) => [30 + at, 60 + at / 20]));
    expect(find(moved).doubts).toEqual([]);
  });

  test('a long stay at exactly a code at the end is a level too', () => {
    const stays = Object.fromEntries(Array.from({ length: 30 }, (_, at) => [30 + at, 85]));
    expect(find(stays).doubts).toEqual([]);
  });
});

describe('the step of a sensor', () => {
  const quantised = (step_K: number) =>
    Float64Array.from(
      { length: 400 },
      (_, row) => Math.round((20 + 15 * Math.sin(row / 40)) / step_K) * step_K,
    );
  // Known by construction; u = step / sqrt(12) is the standard deviation of an even distribution of that width [JCGM-100] F.2.2.1.
  test.each([0.0625, 0.1, 0.25, 0.5, 1])('%d K is found', (step_K) => {
    const found = findResolution(quantised(step_K));
    expect(found?.step_K).toBeCloseTo(step_K, 6);
    expect(found?.u_K).toBeCloseTo(step_K * 0.288675, 6);
  });
  test('also where the log rounds it to two places', () => {
    const written = quantised(0.0625).map((value) => Math.round(value * 100) / 100);
    expect(findResolution(written)?.step_K).toBeCloseTo(0.0625, 3);
  });
  test('a sensor without steps has none', () => {
    expect(
      findResolution(Float64Array.from({ length: 400 }, (_, row) => 20 + 15 * Math.sin(row / 40))),
    ).toBeNull();
  });
});
