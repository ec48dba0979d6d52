// @ts-check
/** What the documentation, the lock and the list of stages say, held against what is there. Run by check.mjs. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { builtStages, stages } from '@soakbench/core/stages';
import { schemaFile, schemaText } from '../write-schema.mjs';
import { findCitationFaults, listedKeys } from './citations.mjs';
import { findLinkFaults } from './links.mjs';
import { findLockFaults } from './lock.mjs';
import { findRoomFaults } from './rooms.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const packages = ['core', 'store', 'server', 'cli', 'web'];

/** @param {string} path from the top of the repository */
const read = (path) => readFileSync(join(root, path), 'utf8');

/** @type {string[]} */
const foundations = JSON.parse(read('scripts/check/foundations.json'));

/** @param {string} folder @param {RegExp} name @returns {{ file: string, text: string }[]} */
function readAll(folder, name) {
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const file = `${folder}/${entry.name}`;
    if (entry.isDirectory())
      return /^(node_modules|dist|dist-types)$/.test(entry.name) ? [] : readAll(file, name);
    return name.test(entry.name) ? [{ file, text: read(file) }] : [];
  });
}

/** Rooms are folders, or single files that bear a stage's name. @param {string} house */
function roomsOf(house) {
  const folder = join(root, 'packages', house, 'src');
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() || stages.some(({ name }) => entry.name === `${name}.ts`))
    .map((entry) => entry.name.replace(/\.ts$/, ''));
}

const topPages = readdirSync(root)
  .filter((name) => name.endsWith('.md'))
  .map((file) => ({ file, text: read(file) }));

const faults = [
  ...findCitationFaults(readAll('packages', /\.(tsx?|mjs)$/), listedKeys(read('docs/sources.md'))),
  ...findRoomFaults(
    { stages: stages.map(({ name }) => name), built: builtStages, foundations },
    Object.fromEntries(packages.map((house) => [house, roomsOf(house)])),
  ),
  ...findLinkFaults([...topPages, ...readAll('docs', /\.md$/)], root),
  ...findLockFaults(JSON.parse(read('package-lock.json'))),
];
if (!existsSync(schemaFile) || readFileSync(schemaFile, 'utf8') !== schemaText()) {
  faults.push(
    'docs/build.schema.json is not what the schema in core gives. Run: node scripts/write-schema.mjs',
  );
}

for (const fault of faults) console.error(fault);
process.exitCode = faults.length === 0 ? 0 : 1;
