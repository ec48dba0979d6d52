import { kindOf, shapeOf, skipBlanks, takeNumber } from './cell';
import { takeStamp } from './stamp';
import { Task } from './task';

/** Takes one row. Returns where the next begins, or 0 where the row is not plain; then nothing of it counts. */
export function takeRow(task: Task, p: usize): usize {
  const delimiter = task.delimiter;
  const lineEnd = task.lineEnd;
  const columns = task.columns;
  task.anyLone = 0;
  task.hasReading = 0;
  let c: u32 = load<u8>(p);
  while (c === 0x20) c = load<u8>(++p);
  // A note, a blank line or something rarer; and a cell that begins with a blank of another kind.
  if (c <= 0x20 || c === 0x23 || c >= 0x80) return 0;
  let column = 0;
  while (true) {
    while (c === 0x20 || (c === 0x09 && delimiter !== 0x09)) c = load<u8>(++p);
    const kind = kindOf(task, column);
    if (kind === 1) p = takeNumber(task, shapeOf(task, column), column, p);
    else if (kind !== 0) p = takeStamp(task, shapeOf(task, column), kind, p);
    else {
      while (c !== delimiter && c !== lineEnd) {
        if (c === 0x22) return 0;
        c = load<u8>(++p);
      }
    }
    if (p === 0) return 0;
    c = load<u8>(p);
    if (++column === columns) break;
    if (c === lineEnd) return 0;
    c = load<u8>(++p);
  }
  // What is left of the row: columns nobody uses, as many as there should be.
  while (c !== lineEnd) {
    if (c === delimiter) column++;
    else if (c === 0x22) return 0;
    c = load<u8>(++p);
  }
  if (column > task.width) return 0;

  let t = task.time;
  if (task.unit_s === 0) t = task.date_s + t - task.offset_s;
  else {
    t = task.unit_s === 1e-3 ? t / 1000 : t * task.unit_s;
    if (!(Math.abs(t) <= 8.64e12)) return 0;
  }
  const now_s = roundHalfUp((t - task.start_s) * 1e6) / 1e6;
  const step_s = now_s - task.last_s;
  if (!(now_s > task.last_s && step_s <= 604800)) return 0;

  if (task.anyLone) noteLones(task);
  if (task.hasReading) task.anyReading = 1;
  store<f64>(task.times + ((<usize>task.rows) << 3), now_s);
  task.last_s = now_s;
  task.rows++;
  return p + 1;
}

/** As Math.round in JavaScript has it. */
// @ts-ignore: decorator
@inline
function roundHalfUp(x: f64): f64 {
  const up = Math.ceil(x);
  return up - 0.5 > x ? up - 1 : up;
}

/** Adds the cells of this row that the general reader is to look at, in the order of the channels. */
function noteLones(task: Task): void {
  for (let k = 0; k < task.channels; k++) {
    if (!load<u8>(task.isLone + k)) continue;
    store<u8>(task.isLone + k, 0);
    const at = task.lone + ((<usize>task.lones) << 4);
    const place = (<usize>k) << 2;
    store<i32>(at, task.rows);
    store<i32>(at, k, 4);
    store<usize>(at, load<usize>(task.loneFrom + place), 8);
    store<usize>(at, load<usize>(task.loneTo + place), 12);
    task.lones++;
  }
}
