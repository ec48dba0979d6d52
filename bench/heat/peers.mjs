// @ts-check
/** The general-purpose programs our solver is held against: building them, running one, or saying why it cannot be. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const sources = fileURLToPath(new URL('peers/', import.meta.url));
const build = fileURLToPath(new URL('../../node_modules/.cache/heat-peers/', import.meta.url));
const python = process.env['PYTHON'] ?? 'python3';

const packages =
  'gcc libc6-dev mpi-default-dev mpi-default-bin libhypre-dev libsuitesparse-dev libopenblas0-pthread';
export const instructions = [
  'On Debian, as root: apt-get install --no-install-recommends',
  `  ${packages}`,
  'and for a Python of your own: pip install numpy scipy pyamg (PYTHON=... names which). Then: node bench/heat-solve.mjs',
].join('\n');

/** @type {Record<string, string[]>} */
const compile = {
  cholmod: ['gcc', '-O3', '-std=gnu11', '-I/usr/include/suitesparse', 'cholmod.c', '-lcholmod', '-lm'],
  hypre: ['mpicc', '-O3', '-std=gnu11', '-I/usr/include/hypre', 'hypre.c', '-lHYPRE', '-lm'],
  triad: ['gcc', '-O3', '-std=gnu11', 'triad.c'],
};

/**
 * Each with the sizes it can be asked for in reasonable time and memory, and the one at which once must do.
 *
 * @type {readonly { name: string, family: string, run: string[], sizes: string[], once?: string }[]}
 */
export const peers = [
  { name: 'SciPy spsolve', family: 'spsolve', run: ['direct.py', 'spsolve'], sizes: ['60k'] },
  {
    name: 'CHOLMOD, METIS',
    family: 'cholmod',
    run: ['cholmod', 'metis'],
    sizes: ['60k', '490k'],
    once: '490k',
  },
  { name: 'CHOLMOD, AMD', family: 'cholmod', run: ['cholmod', 'amd'], sizes: ['60k'] },
  ...['amg', 'aggressive', 'pfmg', 'smg'].map((method) => ({
    name: `HYPRE ${method}`,
    family: 'hypre',
    run: ['hypre', method],
    sizes: ['60k', '490k', '2M', '4M'],
  })),
  { name: 'PyAMG', family: 'pyamg', run: ['direct.py', 'pyamg'], sizes: ['60k', '490k', '2M', '4M'] },
];

/** Where a program is, compiled when it is first asked for, or why there is none. @param {string} program */
function findProgram(program) {
  const file = path.join(build, program);
  if (existsSync(file)) return { file };
  mkdirSync(build, { recursive: true });
  const [compiler = '', ...options] = compile[program] ?? [];
  const made = spawnSync(compiler, [...options, '-o', file], { cwd: sources, encoding: 'utf8' });
  if (made.status === 0) return { file };
  const reason = made.error
    ? `${compiler} is missing`
    : (made.stderr.split('\n').find((line) => /error/.test(line)) ?? '');
  return { missing: `${program} does not compile here: ${reason.trim()}` };
}

/**
 * One run. A program that is missing gives its reason in place of numbers.
 *
 * @param {readonly string[]} run program and method
 * @param {string} network file
 * @returns {{ setup_s: number, solve_s: number, iterations: number, most_K: number, version: string, bytes_per_s: number } | { missing: string }}
 */
export function runPeer([program = '', method = ''], network) {
  let command = [python, path.join(sources, program), network, method];
  if (!program.endsWith('.py')) {
    const found = findProgram(program);
    if (found.missing) return { missing: found.missing };
    command = [String(found.file), ...(method ? [network, method] : [])];
  }
  const done = spawnSync(String(command[0]), command.slice(1), {
    encoding: 'utf8',
    env: { ...process.env, PYTHONDONTWRITEBYTECODE: '1' },
  });
  if (done.error) return { missing: `${command[0]} is missing` };
  if (done.status !== 0) return { missing: (done.stderr.trim().split('\n').at(-1) ?? '').slice(0, 120) };
  return JSON.parse(done.stdout);
}
