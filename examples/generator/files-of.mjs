/**
 * The files of a build folder, as `make-reedling-r2.mjs` writes them and as the test compares them.
 *
 * @param {ReturnType<typeof import('./scenario.mjs').makeBuild>} made
 * @returns {Map<string, Uint8Array>} path inside the folder -> bytes
 */
export function filesOf({ build, logs, truth }) {
  const json = (value) => new TextEncoder().encode(`${JSON.stringify(value, null, 2)}\n`);
  /** @type {Map<string, Uint8Array>} */
  const files = new Map([
    ['build.json', json(build)],
    ['truth.json', json(truth)],
  ]);
  for (const [file, bytes] of logs) files.set(`logs/${file}`, bytes);
  return files;
}
