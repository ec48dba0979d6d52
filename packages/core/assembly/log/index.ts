/**
 * Plain rows of a log for WebAssembly: what packages/core/src/runs/read-plain-log.kernel.ts does, sixteen bytes at a time.
 * Both take the same rows, stop at the same row and give the same bits.
 * Build with: node scripts/build-wasm-modules.mjs
 */
import { takeRow } from './row';
import { forgetShapes } from './shape';
import { Task } from './task';

/**
 * Takes rows from `from` on, to `end`, which follows a line end, up to the first that is not plain, and while there is room.
 * Returns where the next begins; below nothing if that is not plain. The thirty-two bytes behind `end` are read and mean nothing.
 */
export function takeRows(task: Task, from: usize, end: usize): isize {
  memory.fill(task.isLone, 0, task.channels);
  task.rows = 0;
  task.lones = 0;
  task.anyReading = 0;
  task.isHeadKnown = 0;
  forgetShapes(task.shapes, task.columns);
  const mostLones = task.loneCapacity - task.channels;
  let at = from;
  while (at < end && task.rows < task.capacity && task.lones <= mostLones) {
    const next = takeRow(task, at);
    if (next === 0) return -(<isize>at);
    at = next;
  }
  return at;
}
