import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { BadInputError } from '@soakbench/core/measure';
import type { LogBytes, LogPieces } from '@soakbench/core/runs';

/** Bytes read at once: large enough to be quick, small enough to be stopped and told about between two of them. */
const piece_bytes = 1_048_576;

/**
 * A log on the disk that is read piece by piece, anew each time it is gone through.
 *
 * @param onRead called behind each piece with the share read so far, 0 to 1
 * @throws BadInputError where it cannot be read, or has become longer or shorter meanwhile
 */
export function openLogFile(path: string, onRead?: (share: number) => void): LogPieces {
  const size_bytes = withFile(path, (handle) => fstatSync(handle).size);
  return {
    size_bytes,
    *[Symbol.iterator]() {
      const handle = open(path);
      try {
        let read_bytes = 0;
        for (;;) {
          // A buffer of its own for each piece: the reader may hold on to the last one.
          const piece = new Uint8Array(Math.min(piece_bytes, Math.max(1, size_bytes - read_bytes)));
          const got = readSync(handle, piece);
          if (got === 0) break;
          read_bytes += got;
          if (read_bytes > size_bytes) break;
          yield got < piece.length ? piece.subarray(0, got) : piece;
          onRead?.(read_bytes / size_bytes);
        }
        if (read_bytes !== size_bytes) throw changed(path);
      } finally {
        closeSync(handle);
      }
    },
  };
}

/** The pieces of a log, however it is at hand. */
export function piecesIn(log: LogBytes): Iterable<Uint8Array> {
  return log instanceof Uint8Array ? [log] : log;
}

/** All bytes of a log at once, for what takes no pieces. @throws BadInputError as `openLogFile` does, while the pieces are read */
export function bytesOf(log: LogBytes): Uint8Array {
  if (log instanceof Uint8Array) return log;
  const bytes = new Uint8Array(log.size_bytes);
  let at = 0;
  for (const piece of log) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}

/** What is said of a file that the system does not let be read. */
export function unreadable(path: string, error: unknown): BadInputError {
  return new BadInputError([
    {
      where: path,
      what: `The file cannot be read: ${(error as Error).message}.`,
      remedy: 'Make it readable and try again.',
    },
  ]);
}

function open(path: string): number {
  try {
    return openSync(path, 'r');
  } catch (error) {
    throw unreadable(path, error);
  }
}

function withFile<T>(path: string, look: (handle: number) => T): T {
  const handle = open(path);
  try {
    return look(handle);
  } finally {
    closeSync(handle);
  }
}

function changed(path: string): BadInputError {
  return new BadInputError([
    {
      where: path,
      what: 'The log changed while it was read.',
      remedy: 'Stop the logger, or copy the log first, and try again.',
    },
  ]);
}
