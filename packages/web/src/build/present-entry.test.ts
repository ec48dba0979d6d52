import { plainText } from '@soakbench/core/measure';
import { type Build, newBuild } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { presentEntry, seriesCaution } from './present-entry.js';

const pack = (series: number) => ({ name: 'pack', series, parallel: 1 });

describe('how far the description has come', () => {
  test('an empty build is asked for everything, and each thing says why', () => {
    const { missing, answer } = presentEntry(newBuild('r2', 'Recorder'));
    expect(missing.map((part) => part.what)).toEqual([
      'the device',
      'the original pack',
      'the new pack',
      'a zone that gives off heat',
      'a set-up',
      'the design ambient',
      'the duty',
    ]);
    expect(plainText(answer)).toMatch(/^Describe the device/);
  });

  test('what is missing is named in the answer, and nothing else is', () => {
    const build: Build = { ...newBuild('r2', 'Recorder'), originalPack: pack(2), newPack: pack(2) };
    const text = plainText(presentEntry(build).answer);
    expect(text).toContain('the device');
    expect(text).not.toContain('pack');
  });
});

describe('a pack with another number of cells in series', () => {
  const build = newBuild('r2', 'Recorder');
  test.each([
    [2, 1, /overcharge/],
    [1, 2, /never fill/],
  ])('%d in series replaced by %d is a stop', (before, after, why) => {
    const caution = seriesCaution({ ...build, originalPack: pack(before), newPack: pack(after) });
    expect(caution).toMatch(why);
    expect(caution).toMatch(/Do not connect/);
  });
  test('equal packs, or one that is not entered, give no caution', () => {
    expect(seriesCaution({ ...build, originalPack: pack(2), newPack: pack(2) })).toBeNull();
    expect(seriesCaution({ ...build, newPack: pack(2) })).toBeNull();
  });
});
