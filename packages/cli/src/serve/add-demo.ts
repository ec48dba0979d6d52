import { fileURLToPath } from 'node:url';
import { readFolder, type Store } from '@soakbench/store';
import { packageRoot } from '../package-root.js';

const demoFolder = fileURLToPath(new URL('../../examples/reedling-r2/', packageRoot));

/** Puts the invented example into the store, once: whoever removed it does not want it back at every start. */
export function addDemo(store: Store, tell: (text: string) => void): void {
  const { build, logFiles, piecesOf } = readFolder(demoFolder);
  if (store.takenIds().includes(build.id)) return;
  store.addBuild(build, new Map(logFiles.map((file) => [file, piecesOf(file) ?? new Uint8Array()])));
  tell(`Added the invented example ${build.name}.`);
}
