import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';

/** Twenty nights at ten readings a second, four channels; a bench log has a hundredth of it. */
const largest_bytes = 200e6;

/**
 * The bytes of a log and the name to keep it under.
 *
 * @param log path, or `-` for standard input
 * @throws BadInputError for a name that is no plain file name, or a log too large
 */
export async function readLogFile(
  log: string,
  name: string | undefined,
): Promise<{ bytes: Uint8Array; name: string }> {
  const kept = name ?? (log === '-' ? undefined : basename(log));
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
  if (log === '-') return { bytes: await readStandardInput(kept), name: kept };
  const found = await stat(log);
  if (found.size > largest_bytes) throw tooLarge(log);
  if (found.isDirectory()) {
    throw new BadInputError([{ where: log, what: 'This is a folder, not a log.', remedy: 'Name a file.' }]);
  }
  return { bytes: plainBytes(await readFile(log)), name: kept };
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
