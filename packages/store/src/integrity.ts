import { readBuild } from '@soakbench/core/records';
import type { Driver } from './driver.js';
import { logsOf } from './log-match.js';
import { hashLog } from './log-shelf.js';

/**
 * Everything that is wrong with a store, one sentence each; empty where all is well.
 *
 * Beyond what SQLite checks of itself: every log has the content its hash names, every document can be read, every run
 * of every step has its log, and no log lies there without a build.
 */
export function findDamage(driver: Driver): string[] {
  const damage: string[] = [];
  for (const row of driver.prepare('PRAGMA integrity_check').all()) {
    if (row['integrity_check'] !== 'ok') damage.push(`SQLite: ${row['integrity_check']}.`);
  }
  for (const row of driver.prepare('PRAGMA foreign_key_check').all()) {
    damage.push(`A row of ${row['table']} points to a row of ${row['parent']} that is not there.`);
  }
  return [...damage, ...findDamagedLogs(driver), ...findDamagedBuilds(driver)];
}

function findDamagedLogs(driver: Driver): string[] {
  const damage: string[] = [];
  const names = driver
    .prepare(
      'SELECT sha256, (SELECT count(*) FROM build_logs WHERE build_logs.sha256 = logs.sha256) AS uses FROM logs',
    )
    .all();
  const content = driver.prepare('SELECT bytes FROM logs WHERE sha256 = ?');
  for (const { sha256, uses } of names) {
    // One at a time: together the logs may not fit into memory.
    const actual = hashLog(content.get(String(sha256))?.['bytes'] as Uint8Array);
    if (actual !== sha256) damage.push(`The log ${sha256} has other content: its SHA-256 is ${actual}.`);
    if (uses === 0) damage.push(`The log ${sha256} belongs to no build.`);
  }
  return damage;
}

function findDamagedBuilds(driver: Driver): string[] {
  const damage: string[] = [];
  const lost = driver.prepare(
    'SELECT id FROM builds WHERE NOT EXISTS (SELECT 1 FROM build_revisions WHERE build = builds.id AND step = builds.step)',
  );
  for (const { id } of lost.all()) damage.push(`The build "${id}" has no document.`);

  const steps = driver.prepare('SELECT build, step FROM build_revisions ORDER BY build, step').all();
  const document = driver.prepare('SELECT document FROM build_revisions WHERE build = ? AND step = ?');
  const logs = driver.prepare('SELECT file, sha256 FROM build_logs WHERE build = ? AND step = ?');
  for (const { build: id, step } of steps) {
    const place = `Step ${step} of the build "${id}"`;
    const held = new Map(logs.all(String(id), Number(step)).map((row) => [row['file'], row['sha256']]));
    try {
      const text = String(document.get(String(id), Number(step))?.['document']);
      const build = readBuild(text, place);
      if (build.id !== id) damage.push(`${place} holds the document of "${build.id}".`);
      for (const [file, sha256] of logsOf(build)) {
        if (held.get(file) !== sha256) damage.push(`${place} names the log "${file}", which is not there.`);
      }
    } catch (error) {
      damage.push(`${place} cannot be read: ${(error as Error).message}`);
    }
  }
  return damage;
}
