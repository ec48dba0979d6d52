import { describe, expect, test } from 'vitest';
import { pageHref, pageNames, readRoute } from './router.js';

describe('the place a hash names', () => {
  test.each(['', '#', '#/'])('"%s" is the list of builds', (hash) => {
    expect(readRoute(hash)).toEqual({ at: 'builds' });
  });

  test.each(pageNames)('the link to %s leads there', (page) => {
    expect(readRoute(pageHref('reedling-r2', page))).toEqual({ at: 'page', build: 'reedling-r2', page });
  });

  test('a build without a page opens its verdict', () => {
    expect(readRoute('#/builds/r2')).toEqual({ at: 'page', build: 'r2', page: 'verdict' });
  });

  test('a run has its own place, under runs only', () => {
    expect(readRoute(pageHref('r2', 'runs', 'run-7'))).toEqual({
      at: 'page',
      build: 'r2',
      page: 'runs',
      run: 'run-7',
    });
    expect(readRoute('#/builds/r2/compare/run-7').at).toBe('nowhere');
  });

  test.each(['#/builds', '#/settings', '#/builds/r2/heat', '#/builds/r2/runs/a/b', '#/builds/%E0%A4%A'])(
    '"%s" is nowhere or names itself, and never throws',
    (hash) => {
      expect(['nowhere', 'page']).toContain(readRoute(hash).at);
    },
  );
});
