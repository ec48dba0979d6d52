// @ts-check
import { spawn } from 'node:child_process';
import { constants } from 'node:os';

/**
 * @typedef {object} CommandOptions
 * @property {string} [cwd]
 * @property {NodeJS.ProcessEnv} [env]
 * @property {boolean} [quiet] keep the output and return it instead of showing it
 * @property {(elapsed_s: number) => string} [waiting] a line to print every 15 s while nothing else is said
 */

/**
 * Runs a command and waits for it. The child leads a process group of its own, so that Ctrl-C or a SIGTERM
 * to this script ends the child and everything the child started, a browser or a compiler included.
 *
 * @param {string} command
 * @param {readonly string[]} args
 * @param {CommandOptions} [options]
 * @returns {Promise<{ code: number, output: string }>} code 127 where the command does not exist
 */
export function runCommand(command, args, { cwd, env = process.env, quiet = false, waiting } = {}) {
  const grouped = process.platform !== 'win32';
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd,
      env,
      detached: grouped,
      stdio: ['ignore', quiet ? 'pipe' : 'inherit', quiet ? 'pipe' : 'inherit'],
    });
    let output = '';
    child.stdout?.on('data', (/** @type {Buffer} */ chunk) => {
      output += chunk;
    });
    child.stderr?.on('data', (/** @type {Buffer} */ chunk) => {
      output += chunk;
    });

    const started = Date.now();
    const pulse = waiting
      ? setInterval(() => console.log(waiting(Math.round((Date.now() - started) / 1000))), 15_000)
      : undefined;

    /** @param {NodeJS.Signals} signal */
    const endGroup = (signal) => {
      try {
        if (child.pid !== undefined) process.kill(grouped ? -child.pid : child.pid, signal);
      } catch {
        // The group has already gone, which is what was wanted.
      }
    };
    /** @type {NodeJS.Signals | undefined} */
    let interruption;
    /** @param {NodeJS.Signals} signal */
    const passOn = (signal) => {
      interruption = signal;
      endGroup(signal);
      setTimeout(() => {
        endGroup('SIGKILL');
        leave(signal);
      }, 5000);
    };
    process.on('SIGINT', passOn).on('SIGTERM', passOn).on('SIGHUP', passOn);

    /** @param {number} code */
    const settle = (code) => {
      clearInterval(pulse);
      process.off('SIGINT', passOn).off('SIGTERM', passOn).off('SIGHUP', passOn);
      resolve({ code, output });
    };
    child.on('error', () => settle(127));
    child.on('close', (code) => {
      if (interruption) leave(interruption);
      settle(code ?? 1); // No code: the child crashed.
    });
  });
}

/** @param {NodeJS.Signals} signal @returns {never} with the exit code a shell gives for that signal */
function leave(signal) {
  process.exit(128 + constants.signals[signal]);
}

/** Ends the script with one message a person can act on. @param {string} message @returns {never} */
export function stop(message) {
  console.error(message);
  process.exit(1);
}
