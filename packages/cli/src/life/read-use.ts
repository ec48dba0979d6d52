import type { Build } from '@soakbench/core/records';
import { type DutyOfLog, dutyOfLog } from '@soakbench/core/verdict';
import { piecesIn } from '@soakbench/store';
import { readLogFile } from '../runs/read-log-file.js';

/** The duty that a log of use shows. @throws BadInputError naming the line where it cannot be read */
export async function readUse(build: Build, path: string): Promise<DutyOfLog> {
  const { log, name } = await readLogFile(path, undefined);
  const decoder = new TextDecoder();
  let text = '';
  for (const piece of piecesIn(log)) text += decoder.decode(piece, { stream: true });
  return dutyOfLog(build, text + decoder.decode(), name);
}
