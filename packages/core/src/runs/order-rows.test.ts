import { describe, expect, test } from 'vitest';
import { makeNoise } from '../numerics/index.js';
import { orderRows } from './order-rows.js';

const week_s = 7 * 86_400;
const order = (times_s: number[]) => orderRows(Float64Array.from(times_s), times_s.length, week_s);
const rising = (count: number, from = 0) => Array.from({ length: count }, (_, row) => from + row);

describe('rows whose stamps do not rise', () => {
  test('a late row is sorted into its place', () => {
    const times_s = rising(30);
    [times_s[10], times_s[11]] = [11, 10];
    expect(order(times_s)).toMatchObject({ ok: true, late: [11], strays: [] });
    const result = order(times_s);
    expect(result.ok && result.order.map((row) => times_s[row])).toEqual(rising(30));
  });

  test('a late row whose time comes again behind a damaged stamp counts once, and nothing before it is lost', () => {
    const times_s = [...rising(12), 13, 12, 140, 12, ...rising(20, 14)];
    const result = order(times_s);
    expect(result.ok && result.order.map((row) => times_s[row])).toEqual(rising(34));
    expect(result.ok && result.strays).toEqual([
      { row: 14, reason: 'its time is ahead of the rows that follow' },
      { row: 15, reason: 'same time as another row' },
    ]);
  });

  test('however rows are disturbed, times rise and every row is either placed or told of', () => {
    const noise = makeNoise(1);
    const whole = (below: number) => Math.floor(below * noise.uniform());
    for (let log = 0; log < 20_000; log++) {
      const times_s = rising(20 + whole(40));
      for (let fault = whole(6); fault >= 0; fault--) {
        const at = whole(times_s.length - 3);
        const kind = whole(4);
        if (kind === 0) [times_s[at], times_s[at + 1]] = [times_s[at + 1] as number, times_s[at] as number];
        else if (kind === 1) times_s.splice(at + 1 + whole(3), 0, times_s[at] as number);
        else if (kind === 2) times_s[at] = (times_s[at] as number) * 10 + whole(10);
        else times_s[at] = whole(times_s.length);
      }
      const result = order(times_s);
      if (!result.ok) continue;
      const placed = result.order.map((row) => times_s[row] as number);
      expect(placed.every((time_s, n) => n === 0 || time_s > (placed[n - 1] as number))).toBe(true);
      const all = [...result.order, ...result.strays.map(({ row }) => row)].sort((one, other) => one - other);
      expect(all).toEqual(rising(times_s.length));
    }
  });

  test('a late row whose time is taken is left out', () => {
    const times_s = [...rising(20), 17, ...rising(20, 20)];
    expect(order(times_s)).toMatchObject({
      ok: true,
      strays: [{ row: 20, reason: 'same time as another row' }],
    });
  });

  test('a stamp far back is left out, not sorted in among rows long past', () => {
    const times_s = [...rising(30), 2.5, ...rising(20, 30)];
    const result = order(times_s);
    expect(result.ok && result.late).toEqual([]);
    expect(result.ok && result.strays.map(({ row }) => row)).toEqual([30]);
  });

  test('a stamp far ahead is left out, and the rows behind it stay', () => {
    const times_s = [...rising(20), 5000, ...rising(20, 20)];
    const result = order(times_s);
    expect(result.ok && result.strays.map(({ row }) => row)).toEqual([20]);
    expect(result.ok && result.order).toHaveLength(40);
  });

  test('a clock not yet set costs the rows before it was set', () => {
    const times_s = [0, 1, ...rising(40, 1e9)];
    const result = order(times_s);
    expect(result.ok && result.strays.map(({ row }) => row)).toEqual([0, 1]);
  });

  test.each([
    ['a clock set back by an hour', [...rising(100, 5000), ...rising(100, 1500)], 100, true],
    ['a clock set ahead by a month', [...rising(50), ...rising(50, 30 * 86_400)], 50, false],
    ['three rows of which one goes back', [10, 20, 5], 2, true],
  ])('%s is not settled here', (_name, times_s, row, isBack) => {
    expect(order(times_s)).toEqual({ ok: false, before: row - 1, row, isBack });
  });
});
