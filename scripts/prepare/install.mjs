// @ts-check
/** Are the packages installed for this Node on this machine? If not, install them, and say so. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { debianHelp, installDebianPackages } from './debian.mjs';
import { runCommand, stop } from './run-command.mjs';

/** @typedef {{ version?: string, link?: boolean, optional?: boolean, devOptional?: boolean, resolved?: string }} LockEntry */
/** @typedef {{ packages: Record<string, LockEntry> }} Lock */
/** @typedef {{ lock: string, modules: string, platform: string, arch: string }} Stamp */

/**
 * The stamp of a good installation. Native packages are bound to the module version, so another major of Node,
 * or the same folder seen from another machine, does not match.
 * @param {string} root @returns {Stamp}
 */
function makeStamp(root) {
  return {
    lock: createHash('sha256')
      .update(readFileSync(join(root, 'package-lock.json')))
      .digest('hex'),
    modules: process.versions.modules,
    platform: process.platform,
    arch: process.arch,
  };
}

const stampFile = (/** @type {string} */ root) =>
  join(root, 'node_modules', '.cache', 'soakbench-install.json');

/** @param {string} file @returns {unknown} undefined where it is missing or not JSON */
function readJson(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return undefined;
  }
}

/**
 * Packages that the lock asks for and the installed tree lacks or holds in another version. Optional packages may be
 * absent: most are builds for other machines.
 * @param {Lock} lock @param {Lock} installed npm's own record, `node_modules/.package-lock.json`
 */
export function findMismatches(lock, installed) {
  return Object.entries(lock.packages)
    .filter(([path]) => path.startsWith('node_modules/') || path.includes('/node_modules/'))
    .filter(([path, wanted]) => {
      const present = installed.packages[path];
      if (!present) return !(wanted.optional || wanted.devOptional);
      return wanted.link ? present.resolved !== wanted.resolved : present.version !== wanted.version;
    })
    .map(([path]) => path);
}

/**
 * @param {Stamp | undefined} stamp @param {Stamp} wanted
 * @param {boolean} treeMatches the installed tree is what the lock asks for
 * @returns {'installed' | 'check-driver' | 'install'} `check-driver`: a person ran `npm ci`; it counts if a driver loads
 */
export function judgeInstall(stamp, wanted, treeMatches) {
  if (!treeMatches) return 'install';
  if (stamp === undefined) return 'check-driver';
  const sameMachine =
    stamp.modules === wanted.modules && stamp.platform === wanted.platform && stamp.arch === wanted.arch;
  if (!sameMachine) return 'install';
  return stamp.lock === wanted.lock ? 'installed' : 'check-driver';
}

/**
 * Opens an in-memory database in a process of its own, so that a broken native package can neither crash this script
 * nor stay loaded while it is replaced.
 * @param {string} root
 */
async function driverLoads(root) {
  const trial = `
    import('node:sqlite')
      .then(({ DatabaseSync }) => new DatabaseSync(':memory:').exec('select 1'))
      .catch(() => import('better-sqlite3').then(({ default: Database }) => new Database(':memory:').exec('select 1')))
      .catch(() => process.exit(1));`;
  const cwd = join(root, 'packages', 'store');
  return (
    (await runCommand(process.execPath, ['--no-warnings', '-e', trial], { cwd, quiet: true })).code === 0
  );
}

/** @param {string} root */
async function runNpmCi(root) {
  const env = { ...process.env };
  delete env['NODE_ENV']; // `production` would leave out the tools that build the pages.
  const args = ['ci', '--include=dev', '--include=optional', '--no-audit', '--no-fund'];
  const npmFile = process.env['npm_execpath'];
  const [command, before] =
    npmFile && /^npm-cli\.c?js$/.test(basename(npmFile)) && existsSync(npmFile)
      ? [process.execPath, [npmFile]]
      : [process.platform === 'win32' ? 'npm.cmd' : 'npm', []];
  const { code } = await runCommand(command, [...before, ...args], {
    cwd: root,
    env,
    waiting: (elapsed_s) =>
      `  still installing, ${elapsed_s} s (compiling the database driver takes a minute or two)`,
  });
  if (code !== 0) {
    stop(
      code === 127
        ? 'npm was not found. It comes with Node: https://nodejs.org'
        : `Installing the packages failed (npm ci ended with code ${code}); the reason stands above. It needs the network this once. Put it right and run the same command again.`,
    );
  }
}

/** @param {string} root the top of the repository */
export async function ensureInstalled(root) {
  const wanted = makeStamp(root);
  const lock = /** @type {Lock} */ (readJson(join(root, 'package-lock.json')));
  const installed = /** @type {Lock | undefined} */ (
    readJson(join(root, 'node_modules', '.package-lock.json'))
  );
  const stamp = /** @type {Stamp | undefined} */ (readJson(stampFile(root)));
  const judgement = judgeInstall(
    stamp,
    wanted,
    installed !== undefined && findMismatches(lock, installed).length === 0,
  );
  if (judgement === 'installed') return;

  if (judgement === 'install' || !(await driverLoads(root))) {
    console.log('Installing packages (the first time takes one to two minutes) ...');
    await runNpmCi(root);
    if (!(await driverLoads(root))) await installWithCompiler(root);
  }
  mkdirSync(join(root, 'node_modules', '.cache'), { recursive: true });
  writeFileSync(stampFile(root), JSON.stringify(wanted)); // Last, so that a broken installation is never believed.
}

/** npm drops an optional package whose compile fails without a word, so the driver's absence is noticed here. @param {string} root */
async function installWithCompiler(root) {
  const tools = ['python3', 'make', 'g++'];
  const why = `No database driver could be loaded: Node ${process.versions.node} brings none, and better-sqlite3 could not be built.`;
  console.log(why);
  if (await installDebianPackages(tools)) {
    await runNpmCi(root);
    if (await driverLoads(root)) return;
  }
  stop(
    `${why}\nIt needs Python 3, make and a C++ compiler: ${debianHelp(tools) ?? 'install them'}, then run the same command again. Or use Node 22.13 or newer, which has a driver built in.`,
  );
}
