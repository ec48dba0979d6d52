import { type Build, checkBuild, newBuild } from '@soakbench/core/records';
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addTo,
  changeNoWorse,
  moveItem,
  removeProbe,
  removeSetup,
  removeZone,
  replaceIn,
} from './change-build.js';

const zone = { name: 'Processor', x_mm: 1, y_mm: 1, length_mm: 9, width_mm: 9, height_mm: 2 };

function full(): Build {
  let build = addTo(newBuild('r2', 'Recorder'), 'zones', zone);
  build = addTo(build, 'probes', { name: 'Z1', place: 'zone', zone: 'processor' });
  build = addTo(build, 'probes', { name: 'C1', place: 'cell' });
  build = addTo(build, 'setups', { name: 'bare', layers: [] });
  build = {
    ...build,
    baseline: 'bare',
    limits: [
      ...build.limits,
      {
        id: 'chip',
        where: 'zone',
        zone: 'processor',
        state: 'any',
        level: 'stop',
        limit_C: 85,
        source: 'sheet',
      },
    ],
    probeChecks: [
      {
        id: 'first',
        model: 'offset',
        points: [{ reference: { kind: 'ice' }, readings: [{ probe: 'z1', reading_C: 0.4 }] }],
      },
    ],
  };
  return checkBuild(build);
}

describe('what is removed leaves no record that points nowhere', () => {
  // `checkBuild` refuses a document with a dangling id, so passing it is the proof.
  test.each([
    ['a zone', (build: Build) => removeZone(build, 'processor')],
    ['a set-up', (build: Build) => removeSetup(build, 'bare')],
    ['a probe', (build: Build) => removeProbe(build, 'z1')],
  ])('%s', (_, remove) => {
    expect(() => checkBuild(remove(full()))).not.toThrow();
  });

  test('a check that loses its only reading is gone', () => {
    expect(removeProbe(full(), 'z1').probeChecks).toEqual([]);
  });

  test('the probe of a removed zone stays', () => {
    expect(removeZone(full(), 'processor').probes.map((probe) => probe.id)).toEqual(['z1', 'c1']);
  });
});

describe('ids', () => {
  test('two zones of one name get two ids', () => {
    const build = addTo(full(), 'zones', zone);
    expect(build.zones.map((item) => item.id)).toEqual(['processor', 'processor-2']);
  });
  test('a new name keeps the id, so nothing that points at it is lost', () => {
    const build = replaceIn(full(), 'zones', { id: 'processor', ...zone }, { ...zone, name: 'Main chip' });
    expect(build.zones[0]).toMatchObject({ id: 'processor', name: 'Main chip' });
  });
});

test('moving keeps every item once, and moving back restores the order', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.integer(), { minLength: 1, maxLength: 12 }),
      fc.nat(11),
      fc.nat(11),
      (items, from, to) => {
        const moved = moveItem(items, from, to);
        expect([...moved].sort()).toEqual([...items].sort());
        if (from < items.length && to < items.length) {
          expect(moved[to]).toBe(items[from]);
          expect(moveItem(moved, to, from)).toEqual(items);
        }
      },
    ),
  );
});

test('a difference that does not matter is stated and taken back', () => {
  const stated = changeNoWorse(full(), 0.3);
  expect(stated.noWorse_K).toBe(0.3);
  expect(() => checkBuild(stated)).not.toThrow();
  expect('noWorse_K' in changeNoWorse(stated, undefined)).toBe(false);
});
