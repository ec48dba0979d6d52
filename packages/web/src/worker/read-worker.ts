/** Reads a log once from beginning to end before it is stored: in pieces, off the page, and told how far it is. */
import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Recipe } from '@soakbench/core/records';
import { readLogInPieces } from '@soakbench/core/runs';
import { expose } from 'comlink';

const piece_bytes = 2_097_152;

async function* piecesOf(log: Blob): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < log.size; at += piece_bytes)
    yield new Uint8Array(await log.slice(at, at + piece_bytes).arrayBuffer());
}

/** Faults go back as data: an error loses them on its way out of a worker. */
export type Read = { readonly sha256: string } | { readonly faults: readonly Fault[] };

const reader = {
  /**
   * @returns SHA-256 of the log's bytes; zeros where the browser has none to offer (a plain address of another machine),
   *   and the server's stands. The browser hashes whole files only, so for a moment the log is in memory.
   */
  async read(log: Blob, recipe: Recipe, file: string, onRead: (read_bytes: number) => void): Promise<Read> {
    try {
      await readLogInPieces(piecesOf(log), recipe, file, {
        expected_bytes: log.size,
        onProgress: ({ read_bytes }) => onRead(read_bytes),
      });
    } catch (error) {
      if (error instanceof BadInputError) return { faults: error.faults };
      throw error;
    }
    if (globalThis.crypto?.subtle === undefined) return { sha256: '0'.repeat(64) };
    const digest = await crypto.subtle.digest('SHA-256', await log.arrayBuffer());
    const bytes = [...new Uint8Array(digest)];
    return { sha256: bytes.map((byte) => byte.toString(16).padStart(2, '0')).join('') };
  },
};

export type ReadWorker = typeof reader;

expose(reader);
