// @ts-check
/**
 * Why this Node cannot run Soakbench, or undefined where it can. The gaps (21, early 22) are those of the bundler.
 * @param {string} version such as `20.19.0`
 */
export function refuseNode(version) {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  const fits = (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22;
  return fits
    ? undefined
    : `Soakbench needs Node 20.19 or newer (of the 22 series, 22.12 or newer; 21 will not do), and this is Node ${version}. Install a newer one from https://nodejs.org and try again.`;
}
