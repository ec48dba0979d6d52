import { compileWasm } from '../../numerics/index.js';
import type { LogRows } from '../log-rows.js';
import type { PlainPlan } from '../plain-log.js';
import { takePlainRows } from '../read-plain-log.kernel.js';
import { logModule } from './log-module.js';
import { LogTask, piece_bytes } from './log-task.js';

/** Pieces grow from here: where rows that are not plain are many, little is copied in vain. */
const firstPiece_bytes = 4096;

/** Undefined until it is asked for, null where the platform does not let it run. */
let engine: LogEngine | null | undefined;

/** The engine of this thread; null where there is no WebAssembly, no SIMD, or a policy against it. */
export function startLogEngine(): LogEngine | null {
  if (engine !== undefined) return engine;
  try {
    engine = new LogEngine();
  } catch {
    engine = null;
  }
  return engine;
}

/**
 * Takes plain rows as `takePlainRows` does, the same rows to the same bits, with a module that looks at sixteen bytes at a time.
 *
 * The log is copied to it in pieces, and times and readings are copied back, so the memory is the same for logs of any length.
 */
export class LogEngine {
  private readonly task = new LogTask();
  /** What packages/core/assembly/log exports; all three are addresses. */
  private readonly takeRows: (task: number, from: number, end: number) => number;

  constructor() {
    const { memory } = this.task;
    const { exports } = new WebAssembly.Instance(compileWasm(logModule), { env: { memory } });
    this.takeRows = (exports as { takeRows: LogEngine['takeRows'] }).takeRows;
  }

  /** Parameters and answer as those of `takePlainRows`. A row longer than a piece is left to the general reader. */
  take(b: Uint8Array, at: number, end: number, rows: LogRows, plan: PlainPlan): number {
    if (rows.rows === 0 || (plan.unit_s === 0 && !plan.stamp.isKnown)) return at;
    if (!LogTask.fits(plan)) return takePlainRows(b, at, end, rows, plan);
    this.task.begin(plan, rows);
    let size = firstPiece_bytes;
    while (at < end && rows.rows < rows.after_s.length) {
      const to = b.lastIndexOf(plan.lineEnd, Math.min(end, at + size) - 1) + 1;
      if (to <= at && size === piece_bytes) break;
      size = Math.min(4 * size, piece_bytes);
      if (to <= at) continue;
      const stop = this.takePiece(b.subarray(at, to), rows);
      at += stop.taken_bytes;
      if (stop.isOdd) break;
    }
    return at;
  }

  /** Returns how much of the piece it took, and whether the next row is one for the general reader. */
  private takePiece(piece: Uint8Array, rows: LogRows): { taken_bytes: number; isOdd: boolean } {
    const { task } = this;
    const first = rows.rows;
    task.load(piece, rows.after_s.length - first);
    const stop = this.takeRows(task.task, task.piece, task.piece + piece.length);
    const count = task.get('rows');
    const answer = { taken_bytes: Math.abs(stop) - task.piece, isOdd: stop < 0 };
    if (count === 0) return answer;

    rows.after_s.set(task.found(), first);
    for (const [channel, reading_C] of rows.readings_C.entries()) reading_C.set(task.found(channel), first);
    if (task.get('anyReading') !== 0) rows.anyReading = true;
    const lones = task.get('lones');
    for (let lone = 0; lone < lones; lone++) {
      const { row, channel, from, to } = task.lone(lone);
      const value = rows.readLone_C(piece, from, to, channel, rows.line + row + 1);
      (rows.readings_C[channel] as Float64Array)[first + row] = value;
      if (rows.counted[channel] && !Number.isNaN(value)) rows.anyReading = true;
    }
    rows.lines.note(first, rows.line + 1); // every line up to here is a row
    rows.rows += count;
    rows.last_s = task.last_s;
    rows.line += count;
    rows.lastLine = rows.line;
    return answer;
  }
}
