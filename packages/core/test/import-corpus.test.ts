import { expect, test } from 'vitest';
import { corpus } from '../../../bench/log-corpus.mjs';
import { readLog, sniffLog } from '../src/runs/index.js';
import { LogIntake } from '../src/runs/log-intake.js';

/** Lines by another road than the reader's. */
function linesOf(bytes: Uint8Array, encoding: string): number {
  const text = new TextDecoder(encoding).decode(bytes);
  const lines = text.split(text.includes('\n') ? '\n' : '\r');
  return lines.at(-1) === '' ? lines.length - 1 : lines.length;
}

test.each(corpus)('$item: $note', (log) => {
  const { recipe, questions } = sniffLog(log.bytes, { file: 'corpus.log', probes: [] });
  const reading = readLog(log.bytes, recipe, 'corpus.log');
  const { after_s, startedAt, channels, report } = reading;
  expect(questions.map(({ field }) => field)).toEqual(log.asks ?? []);
  expect([...after_s]).toEqual(log.after_s);
  expect(startedAt).toBe(log.startedAt ?? null);
  const readings = channels.map(({ reading_C }) =>
    [...reading_C].map((value) => (Number.isNaN(value) ? null : Number(value.toFixed(9)))),
  );
  expect(readings).toEqual(
    log.readings_C.map((column) => column.map((value) => (value === null ? null : Number(value.toFixed(9))))),
  );
  expect(report.lines.leftOut).toBe(log.leftOut ?? 0);
  const { header, blank, read, leftOut } = report.lines;
  expect(header + blank + read + leftOut).toBe(linesOf(log.bytes, recipe.encoding));
  expect(report.doubts.map(({ kind, lines }) => ({ kind, lines }))).toEqual(log.doubts ?? []);
  expect(report.late).toEqual(log.late ?? []);

  // Whoever takes the plain rows, whole or in pieces that part lines and rows, it is the same log.
  for (const way of ['general', 'typescript', 'wasm'] as const) {
    for (const size of [log.bytes.length, 1, 37]) {
      const intake = new LogIntake(recipe, 'corpus.log', { way });
      for (let at = 0; at < log.bytes.length; at += size) intake.take(log.bytes.slice(at, at + size));
      expect(intake.finish()).toEqual(reading);
    }
  }
});
