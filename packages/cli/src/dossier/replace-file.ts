import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

/** Writes a file that appears complete or not at all; what stood there before stays until then. */
export function replaceFile(path: string, text: string): void {
  const partial = join(dirname(path), `.${basename(path)}.partial-${process.pid}`);
  try {
    writeFileSync(partial, text, { flush: true });
    renameSync(partial, path);
  } catch (error) {
    rmSync(partial, { force: true });
    // The person named the file and not the partial one beside it.
    throw Object.assign(error as Error, { path, dest: path });
  }
}
