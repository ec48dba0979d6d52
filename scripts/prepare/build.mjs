// @ts-check
/** Build what runs, and only when the sources have changed. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { runCommand, stop } from './run-command.mjs';

const builtFolders = new Set(['dist', 'dist-types', 'node_modules', 'bin']);

/** @param {string} folder @param {(name: string) => boolean} enter @returns {string[]} files below, sorted */
function listFiles(folder, enter = () => true) {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      if (!entry.isDirectory()) return [path];
      return enter(entry.name) ? listFiles(path, enter) : [];
    });
}

/** @param {string} root @returns {string} hash of every file that a build reads */
function hashSources(root) {
  const shared = ['package-lock.json', 'tsconfig.json', 'tsconfig.base.json', 'scripts/source-aliases.mjs'];
  const own = listFiles(join(root, 'packages'), (name) => !builtFolders.has(name) && name !== 'test');
  const hash = createHash('sha256').update(process.versions.modules);
  for (const file of [...shared.map((name) => join(root, name)), ...own]) {
    if (!/\.test\.tsx?$/.test(file))
      hash.update(file.slice(root.length)).update('\0').update(readFileSync(file)).update('\0');
  }
  return hash.digest('hex');
}

/** @param {string} root @returns {string} hash of the names and sizes of what was built; a deleted or cut-off file shows */
function hashOutputs(root) {
  const hash = createHash('sha256');
  for (const name of readdirSync(join(root, 'packages')).sort()) {
    for (const file of listFiles(join(root, 'packages', name, 'dist'))) {
      if (!file.endsWith('.tsbuildinfo')) hash.update(`${file.slice(root.length)} ${statSync(file).size}\n`);
    }
  }
  return hash.digest('hex');
}

/** @param {string} root @param {string} what @param {string} script @param {string[]} args */
async function runTool(root, what, script, args) {
  const { code, output } = await runCommand(process.execPath, [join(root, 'node_modules', script), ...args], {
    quiet: true,
  });
  if (code !== 0) stop(`${output.trim()}\n\n${what} failed; the reason stands above.`);
}

/** @param {string} root */
function removeBuilt(root) {
  for (const name of readdirSync(join(root, 'packages'))) {
    for (const built of ['dist', 'dist-types'])
      rmSync(join(root, 'packages', name, built), { recursive: true, force: true });
  }
}

/** @param {string} root the top of the repository */
export async function ensureBuilt(root) {
  const stampFile = join(root, '.cache', 'build.json');
  const stamp = existsSync(stampFile) ? JSON.parse(readFileSync(stampFile, 'utf8')) : {};
  const sources = hashSources(root);
  const outputsStand = stamp.outputs === hashOutputs(root);
  if (outputsStand && stamp.sources === sources) return;

  console.log('Building ...');
  rmSync(stampFile, { force: true });
  // The compiler trusts its notes on what it wrote and would not replace a file that has gone, so all of it goes.
  if (!outputsStand) removeBuilt(root);
  await runTool(root, 'Compiling', 'typescript/bin/tsc', ['-b', root]);
  for (const name of ['web', 'cli']) {
    const folder = join(root, 'packages', name);
    await runTool(root, `Bundling ${name}`, 'vite/bin/vite.js', ['build', folder, '--logLevel', 'warn']);
  }
  mkdirSync(join(root, '.cache'), { recursive: true });
  writeFileSync(stampFile, JSON.stringify({ sources, outputs: hashOutputs(root) }));
}
