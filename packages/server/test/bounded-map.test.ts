import { expect, test } from 'vitest';
import { BoundedMap } from '../src/bounded-map.js';

test('it forgets what was used longest ago, and a look counts as a use', () => {
  const map = new BoundedMap<string, number>(2);
  map.set('a', 1).set('b', 2);
  expect(map.get('a')).toBe(1);
  map.set('c', 3);
  expect([...map.keys()]).toEqual(['a', 'c']);
  map.set('a', 4).set('d', 5);
  expect([...map]).toEqual([
    ['a', 4],
    ['d', 5],
  ]);
});
