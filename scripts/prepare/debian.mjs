// @ts-check
/** The distribution's own means, where the machine is Debian-like. */
import { readFileSync } from 'node:fs';
import { runCommand } from './run-command.mjs';

/** @param {string} osRelease content of /etc/os-release */
export function isDebianLike(osRelease) {
  return /^ID(_LIKE)?=.*\b(debian|ubuntu)\b/m.test(osRelease);
}

function onDebian() {
  try {
    return isDebianLike(readFileSync('/etc/os-release', 'utf8'));
  } catch {
    return false;
  }
}

const isRoot = () => process.getuid?.() === 0;

/**
 * Installs packages where we may do so without asking: on Debian and its kin, as root.
 * @param {readonly string[]} packages
 * @returns {Promise<boolean>} false where it may not, or where apt failed
 */
export async function installDebianPackages(packages) {
  if (!onDebian() || !isRoot()) return false;
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  console.log(`Installing ${packages.join(', ')} with apt-get ...`);
  await runCommand('apt-get', ['update'], { env }); // One unreachable source need not matter; the install decides.
  return (await runCommand('apt-get', ['install', '-y', ...packages], { env })).code === 0;
}

/** The command to type, or undefined elsewhere than on Debian. @param {readonly string[]} packages */
export function debianHelp(packages) {
  if (!onDebian()) return undefined;
  const sudo = isRoot() ? '' : 'sudo ';
  return `${sudo}apt-get update && ${sudo}apt-get install -y ${packages.join(' ')}`;
}
