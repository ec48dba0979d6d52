import type { Build } from '@soakbench/core/records';
import { type DutyOfLog, dutyOfLog } from '@soakbench/core/verdict';
import { readLogFile } from '../runs/read-log-file.js';

/** The duty that a log of use shows. @throws BadInputError naming the line where it cannot be read */
export async function readUse(build: Build, path: string): Promise<DutyOfLog> {
  const { bytes, name } = await readLogFile(path, undefined);
  return dutyOfLog(build, new TextDecoder().decode(bytes), name);
}
