import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findChromium } from './chromium.mjs';
import { isDebianLike } from './debian.mjs';
import { findMismatches, judgeInstall } from './install.mjs';
import { refuseNode } from './node-version.mjs';

describe('which Node will do', () => {
  test.each(['20.19.0', '20.20.2', '22.12.0', '24.0.0'])('%s does', (version) => {
    expect(refuseNode(version)).toBeUndefined();
  });

  test.each(['18.20.8', '20.18.3', '21.7.3', '22.11.0'])(
    '%s does not, and the sentence says so',
    (version) => {
      expect(refuseNode(version)).toContain(`this is Node ${version}`);
    },
  );
});

describe('what is installed', () => {
  const wanted = { lock: 'a', modules: '115', platform: 'linux', arch: 'x64' };

  test.each([
    ['the stamp fits', wanted, true, 'installed'],
    ['packages are missing, whatever the stamp says', wanted, false, 'install'],
    ['no stamp, but the packages are there: a hand-run npm ci', undefined, true, 'check-driver'],
    ['the lock changed and somebody installed it', { ...wanted, lock: 'b' }, true, 'check-driver'],
    ['another major of Node', { ...wanted, modules: '137' }, true, 'install'],
    ['another machine', { ...wanted, arch: 'arm64' }, true, 'install'],
  ] as const)('%s', (_, stamp, treeMatches, judgement) => {
    expect(judgeInstall(stamp, wanted, treeMatches)).toBe(judgement);
  });

  test('only optional packages may be absent, and versions must agree', () => {
    const lock = {
      packages: {
        '': {},
        'packages/core': { version: '0.1.0' },
        'node_modules/a': { version: '1.0.0' },
        'node_modules/b': { version: '1.0.0' },
        'packages/core/node_modules/c': { version: '1.0.0' },
        'node_modules/other-machine': { version: '1.0.0', optional: true },
      },
    };
    const installed = {
      packages: { 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '2.0.0' } },
    };
    expect(findMismatches(lock, installed)).toEqual(['node_modules/b', 'packages/core/node_modules/c']);
  });
});

describe('where the browser is', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'soakbench-browser-'));
    for (const name of ['chosen', 'chromium', 'plain']) writeFileSync(join(folder, name), '#!/bin/sh\n');
    chmodSync(join(folder, 'chosen'), 0o755);
    chmodSync(join(folder, 'chromium'), 0o755);
    chmodSync(join(folder, 'plain'), 0o644);
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  test('SOAKBENCH_CHROMIUM comes before the path', () => {
    expect(findChromium({ SOAKBENCH_CHROMIUM: join(folder, 'chosen'), PATH: folder })).toBe(
      join(folder, 'chosen'),
    );
  });

  test('a wrong SOAKBENCH_CHROMIUM is not replaced by another browser', () => {
    expect(findChromium({ SOAKBENCH_CHROMIUM: join(folder, 'plain'), PATH: folder })).toBeUndefined();
    expect(findChromium({ SOAKBENCH_CHROMIUM: join(folder, 'absent'), PATH: folder })).toBeUndefined();
  });

  test('the usual names are looked up along the path', () => {
    expect(findChromium({ PATH: folder })).toBe(join(folder, 'chromium'));
  });
});

test('Debian and its kin are known by os-release', () => {
  expect(isDebianLike('NAME="x"\nID=debian\n')).toBe(true);
  expect(isDebianLike('ID=linuxmint\nID_LIKE="ubuntu debian"\n')).toBe(true);
  expect(isDebianLike('ID=fedora\nHOME_URL="https://debian.example/"\n')).toBe(false);
});
