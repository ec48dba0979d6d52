import { describe, expect, test } from 'vitest';
import { type FieldGroup, layChange, missingFields, readPath, writePath } from './record-spec.js';

describe('fields of a record by their path', () => {
  test('a field is set without touching the record it came from', () => {
    const before = { name: 'R2', board: { length_mm: 100 } };
    const after = writePath(before, 'board.width_mm', 40);
    expect(after).toEqual({ name: 'R2', board: { length_mm: 100, width_mm: 40 } });
    expect(before).toEqual({ name: 'R2', board: { length_mm: 100 } });
    expect(readPath(after, 'board.width_mm')).toBe(40);
  });

  test('a field taken out is gone, and so is a part that has nothing left', () => {
    expect(writePath({ name: 'plate', outline: { x_mm: 1 } }, 'outline.x_mm', undefined)).toEqual({
      name: 'plate',
    });
  });

  test('fields this version does not know stay', () => {
    expect(writePath({ later: 1, name: 'a' }, 'name', 'b')).toEqual({ later: 1, name: 'b' });
  });
});

describe('what a record still needs', () => {
  const groups: FieldGroup[] = [
    { specs: [{ kind: 'text', key: 'name', label: 'Name', required: true }] },
    {
      optional: true,
      specs: [
        { kind: 'number', key: 'outline.x_mm', label: 'From the left', required: true },
        { kind: 'number', key: 'outline.y_mm', label: 'From below', required: true },
      ],
    },
  ];
  test('an optional part may be absent', () => {
    expect(missingFields(groups, { name: 'plate' })).toEqual([]);
  });
  test('an optional part that was begun must be finished', () => {
    expect(missingFields(groups, { outline: { x_mm: 0 } })).toEqual(['name', 'from below']);
  });
});

describe('two windows that write in one record', () => {
  const before = { name: 'R2', bay_mm: 14, board: { length_mm: 100, width_mm: 40 } };

  test('keep both fields, also inside one part of it', () => {
    const mine = { ...before, board: { length_mm: 101, width_mm: 40 } };
    const theirs = { ...before, bay_mm: 13, board: { length_mm: 100, width_mm: 44 } };
    expect(layChange(before, mine, theirs)).toEqual({
      name: 'R2',
      bay_mm: 13,
      board: { length_mm: 101, width_mm: 44 },
    });
  });

  test('take out what one of them took out, and keep what this version does not know', () => {
    const { bay_mm: _, ...mine } = before;
    expect(layChange(before, mine, { ...before, later: 1 })).toEqual({
      name: 'R2',
      board: before.board,
      later: 1,
    });
  });

  test('where nobody else wrote, the record is what the form made of it', () => {
    const after = { name: 'R3', outline: { x_mm: 1 } };
    expect(layChange(before, after, before)).toEqual(after);
  });
});
