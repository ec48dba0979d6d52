import { describe, expect, test } from 'vitest';
import { RowLines } from './row-lines.js';

describe('the line of a row', () => {
  // A header of two lines, a note behind the third row, the fifth and sixth row parted by a blank line.
  const stands = [3, 4, 5, 7, 8, 10, 11];
  const lines = new RowLines();
  for (const [row, line] of stands.entries()) lines.note(row, line);

  test('is where the row stood', () => {
    expect(stands.map((_, row) => lines.at(row))).toEqual(stands);
  });

  test('follows line by line from the last row that was named', () => {
    expect(lines.at(9)).toBe(14);
  });

  test('goes with the row where rows change places', () => {
    const order = [1, 0, 2, 6, 3, 4];
    const arranged = lines.arranged(order);
    expect(order.map((_, place) => arranged.at(place))).toEqual(order.map((row) => stands[row]));
  });

  test('is not known before any row was named', () => {
    expect(new RowLines().at(0)).toBeNaN();
  });
});
