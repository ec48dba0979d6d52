/**
 * Writes the demo build, the invented field recorder "Reedling R2": build.json, logs/ and truth.json.
 *
 *   node examples/make-reedling-r2.mjs [--seed N] [--out DIR]
 */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { filesOf } from './generator/files-of.mjs';
import { demoSeed, makeBuild } from './generator/scenario.mjs';

const { values } = parseArgs({ options: { seed: { type: 'string' }, out: { type: 'string' } } });
const seed = values.seed === undefined ? demoSeed : Number(values.seed);
const out = values.out ?? fileURLToPath(new URL('./reedling-r2', import.meta.url));

const files = filesOf(makeBuild({ seed }));
// Only the folder of this script's own making is swept; a log of an earlier plan would otherwise stay behind.
if (values.out === undefined) rmSync(join(out, 'logs'), { recursive: true, force: true });
mkdirSync(join(out, 'logs'), { recursive: true });
for (const [path, bytes] of files) writeFileSync(join(out, path), bytes);
console.log(`${files.size} files of the invented Reedling R2, seed ${seed}, in ${out}`);
