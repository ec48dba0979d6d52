import { createHash } from 'node:crypto';
import type { LogBytes } from '@soakbench/core/runs';
import type { Driver } from './driver.js';
import { bytesOf, piecesIn } from './log-file.js';

/** A log as the store lists it. */
export interface StoredLog {
  readonly file: string;
  readonly sha256: string;
  /** Bytes. */
  readonly size: number;
}

/** SHA-256 of a log's bytes, as lower-case hexadecimal: the name its content goes by. */
export function hashLog(log: LogBytes): string {
  const hash = createHash('sha256');
  for (const piece of piecesIn(log)) hash.update(piece);
  return hash.digest('hex');
}

/** Keeps the bytes under their hash; bytes that are already there are not written twice. One log at a time is in memory. */
export function shelveLog(driver: Driver, log: LogBytes): string {
  const bytes = bytesOf(log);
  const sha256 = hashLog(bytes);
  driver
    .prepare('INSERT INTO logs (sha256, size, bytes) VALUES (?, ?, ?) ON CONFLICT (sha256) DO NOTHING')
    .run(sha256, bytes.length, bytes);
  return sha256;
}

/** Drops the bytes that no step of any build's history names any more. */
export function dropUnusedLogs(driver: Driver): void {
  driver.exec(
    'DELETE FROM logs WHERE NOT EXISTS (SELECT 1 FROM build_logs WHERE build_logs.sha256 = logs.sha256)',
  );
}

export function fetchLog(driver: Driver, build: string, step: number, file: string): Uint8Array | undefined {
  const row = driver
    .prepare(
      `SELECT bytes FROM logs JOIN build_logs USING (sha256)
       WHERE build_logs.build = ? AND build_logs.step = ? AND build_logs.file = ?`,
    )
    .get(build, step, file);
  if (!row) return undefined;
  const bytes = row['bytes'] as Uint8Array;
  // One library gives a Buffer; callers are promised plain bytes.
  return new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

export function listLogs(driver: Driver, build: string, step: number): StoredLog[] {
  return driver
    .prepare(
      `SELECT build_logs.file, logs.sha256, logs.size FROM logs JOIN build_logs USING (sha256)
       WHERE build_logs.build = ? AND build_logs.step = ? ORDER BY build_logs.file`,
    )
    .all(build, step)
    .map((row) => ({ file: String(row['file']), sha256: String(row['sha256']), size: Number(row['size']) }));
}

/** Whether any step of the build's history holds these bytes; a log of another build does not count. */
export function holdsLog(driver: Driver, build: string, sha256: string): boolean {
  return (
    driver
      .prepare('SELECT 1 AS held FROM build_logs WHERE build = ? AND sha256 = ? LIMIT 1')
      .get(build, sha256) !== undefined
  );
}
