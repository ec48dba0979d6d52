import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';
import type { LogBytes, LogPieces } from '@soakbench/core/runs';
import { openLogFile } from '@soakbench/store';

/** Twenty nights at ten readings a second, four channels; a bench log has a hundredth of it. */
const largest_bytes = 200e6;

/**
 * A log, its head, and the name to keep it under. A file is gone through piece by piece; standard input cannot be gone
 * through twice, so it is held.
 *
 * @param path path, or `-` for standard input
 * @param onRead called while a file is read, with the share read so far, 0 to 1
 * @throws BadInputError for a name that is no plain file name, or a log too large
 */
export async function readLogFile(
  path: string,
  name: string | undefined,
  onRead?: (share: number) => void,
): Promise<{ log: LogBytes; head: Uint8Array; name: string }> {
  const kept = name ?? (path === '-' ? undefined : basename(path));
  if (
    kept === undefined ||
    kept === '' ||
    kept === '.' ||
    kept === '..' ||
    /[/\\\0]/.test(kept) ||
    kept.length > 200
  ) {
    throw new BadInputError([
      {
        where: '--name',
        what:
          kept === undefined
            ? 'A log from standard input has no name.'
            : `"${kept}" is not a plain file name.`,
        remedy: 'Write --name FILE, as in --name evening.csv',
      },
    ]);
  }
  if (path === '-') {
    const bytes = await readStandardInput(kept);
    return { log: bytes, head: bytes, name: kept };
  }
  const found = await stat(path);
  if (found.size > largest_bytes) throw tooLarge(path);
  if (found.isDirectory()) {
    throw new BadInputError([{ where: path, what: 'This is a folder, not a log.', remedy: 'Name a file.' }]);
  }
  if (!found.isFile()) {
    // A pipe gives its bytes once.
    const bytes = plainBytes(await readFile(path));
    return { log: bytes, head: bytes, name: kept };
  }
  const log = openLogFile(path, onRead);
  return { log, head: headOf(log), name: kept };
}

/** What a log is understood by; more than the sniffer looks at. */
const head_bytes = 4 * 1_048_576;

function headOf(log: LogPieces): Uint8Array {
  const head = new Uint8Array(Math.min(head_bytes, log.size_bytes));
  let at = 0;
  for (const piece of log) {
    head.set(piece.subarray(0, head.length - at), at);
    at += Math.min(piece.length, head.length - at);
    if (at === head.length) break;
  }
  return head;
}

async function readStandardInput(name: string): Promise<Uint8Array> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of process.stdin) {
    parts.push(part as Buffer);
    size += (part as Buffer).length;
    if (size > largest_bytes) throw tooLarge(name);
  }
  return plainBytes(Buffer.concat(parts));
}

function plainBytes({ buffer, byteOffset, byteLength }: Buffer): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}

function tooLarge(where: string): BadInputError {
  return new BadInputError([
    {
      where,
      what: `The log is larger than ${largest_bytes / 1e6} MB.`,
      remedy: 'Split it at a pause, or log less often.',
    },
  ]);
}
