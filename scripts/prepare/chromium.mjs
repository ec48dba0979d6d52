// @ts-check
/** Where is the browser that the tests drive? */
import { accessSync, constants, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { debianHelp, installDebianPackages } from './debian.mjs';
import { runCommand, stop } from './run-command.mjs';

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
const folders = ['/usr/bin', '/usr/local/bin', '/snap/bin', '/opt/google/chrome'];
const applications = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** @param {string} path */
function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/**
 * @param {NodeJS.ProcessEnv} [env] `SOAKBENCH_CHROMIUM` comes first and, where it is set, is the only one tried
 * @returns {string | undefined} path of an executable
 */
export function findChromium(env = process.env) {
  const chosen = env['SOAKBENCH_CHROMIUM'];
  if (chosen) return isExecutable(chosen) ? chosen : undefined;
  const search = [...(env['PATH'] ?? '').split(delimiter).filter(Boolean), ...folders];
  return [...names.flatMap((name) => search.map((folder) => join(folder, name))), ...applications].find(
    isExecutable,
  );
}

/** A file of that name may be a stub that only advertises a package, so the browser is asked for its version. @param {string} path */
async function answers(path) {
  return (await runCommand(path, ['--version'], { quiet: true })).code === 0;
}

/** Browser tests are never skipped: this returns a browser that answers, or stops with the command to type. */
export async function ensureChromium() {
  const chosen = process.env['SOAKBENCH_CHROMIUM'];
  const found = findChromium();
  if (found && (await answers(found))) return found;
  if (chosen)
    stop(`SOAKBENCH_CHROMIUM names ${chosen}, which is not a browser that runs. Correct it or unset it.`);

  console.log('The tests drive a real browser, and no Chromium was found.');
  if (await installDebianPackages(['chromium'])) {
    const installed = findChromium();
    if (installed && (await answers(installed))) return installed;
  }
  const help = debianHelp(['chromium']) ?? 'install Chromium or Chrome with the means of your system';
  stop(
    `Chromium is needed for the tests. Type:\n\n  ${help}\n\nand run npm test again; or set SOAKBENCH_CHROMIUM to the path of a Chromium or Chrome.`,
  );
}
