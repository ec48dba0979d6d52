import { describe, expect, test } from 'vitest';
import { readUseLog } from '../life/index.js';
import type { Build } from '../records/index.js';
import { dutyOfLog } from './duty-of-log.js';

const pack = { name: 'new', series: 2, parallel: 1, energy_Wh: 40 };
const build = { newPack: pack, duty: { load_h_per_day: 1, idle_h_per_day: 1, ambient_C: 24, rest_C: 22 } };
const clock = (minutes: number) =>
  new Date(Date.UTC(2026, 4, 4) + 60_000 * minutes).toISOString().slice(0, 19).replace('T', ' ');

/** Three days, a row every ten minutes: in use from 18 to 21 h at 8 W, charged from 22 h, full in the morning, off the charger by day. */
function rows(write: (at: number, power_W: number, percent: number) => string): string {
  const lines: string[] = [];
  let percent = 90;
  for (let at = 0; at < 3 * 1440; at += 10) {
    const hour = (at / 60) % 24;
    const inUse = hour >= 18 && hour < 21;
    const isCharging = hour >= 22 && percent < 90;
    if (inUse) percent -= (8 / 40) * (10 / 60) * 100;
    // Lying about it loses 0.3 % an hour.
    if (!inUse && hour >= 7 && hour < 22) percent -= 0.3 / 6;
    if (isCharging) percent = Math.min(90, percent + 6);
    else if (hour < 7) percent = Math.min(90, percent + 6);
    lines.push(write(at, inUse ? 8 : 0.05, percent));
  }
  return lines.join('\n');
}

describe('a duty from a log of use', () => {
  // By hand: 3 hours a day at 8 W, from 90 to 90 - 60 - 12 hours of 0.3, and the charge taken at night.
  test('is what the log was made from, by power and by charge alone', () => {
    const both = dutyOfLog(
      build,
      `time,power (W),battery (%)\n${rows((at, power, percent) => `${clock(at)},${power},${percent.toFixed(1)}`)}`,
      'use.csv',
    );
    expect(both.duty.activities[0]?.h_per_day).toBeCloseTo(3, 0);
    expect(both.duty.activities[0]?.use_W).toBeCloseTo(8, 1);
    expect(both.duty.charging).toMatchObject({ habit: 'overnight', limit: 0.9 });
    expect(Math.abs((both.duty.charging.lowest ?? 0) - 0.264)).toBeLessThan(0.011);
    expect(both.duty.room.monthly_C).toEqual([24]);
    const alone = dutyOfLog(
      build,
      `Zeit;Akku charge (%)\n${rows((at, _, percent) => `${clock(at)};${percent.toFixed(1).replace('.', ',')}`)}`,
      'akku.csv',
    );
    expect(alone.duty.activities[0]?.use_W).toBeCloseTo(8, 0);
    expect(alone.findings.join(' ')).toMatch(/falling charge .* log of the new pack/);
  });

  test('a charge of the original pack is worth the original pack’s energy', () => {
    const text = `time,soc\n${rows((at, _, percent) => `${at * 60},${(percent / 100).toFixed(3)}`)}`;
    const of = (from: Pick<Build, 'newPack' | 'originalPack'>) => dutyOfLog(from, text, 'a.csv').duty;
    const original = { ...pack, energy_Wh: 20 };
    const half = of({ newPack: pack, originalPack: original }).activities[0]?.use_W ?? 0;
    expect(half / (of({ newPack: pack }).activities[0]?.use_W ?? 1)).toBeCloseTo(0.5, 2);
  });

  test('milliwatts, a discharge below zero and milliseconds are read as what they are', () => {
    const { log, startsAt_h } = readUseLog('time (ms),power (mW)\n0,-8000\n60000,2500\n', 'a.csv');
    expect(log.after_s).toEqual([0, 60]);
    expect(log.power_W).toEqual([8, 0]);
    expect(startsAt_h).toBeUndefined();
    expect(readUseLog('time,W\n2026-05-04T21:30,1\n2026-05-04T21:40,1\n', 'a.csv').startsAt_h).toBe(21.5);
  });

  test.each([
    ['', /a\.csv: The file is empty/],
    ['time\n1\n', /a\.csv:1.*one column only/],
    ['time,fan\n1,2\n', /a\.csv:1.*"time", "fan" none names a power or a charge/],
    ['time,power (W)\n', /no row below/],
    ['time,power (W)\nnoon,3\n', /a\.csv:2.*"noon" is no time/],
    ['time,power (W)\n0,3\n60,3\n60,3\n', /a\.csv:4.*not after/],
    ['time,charge\n0,180\n', /180 %/],
    ['time,power (W)\n0,3\n600,3\n', /covers 0\.2 hours/],
  ])('refuses %j, naming the place', (text, words) => {
    expect(() => dutyOfLog(build, text, 'a.csv')).toThrow(words);
  });

  test('without the pack’s energy nothing can be said', () => {
    expect(() => dutyOfLog({}, 'time,W\n', 'a.csv')).toThrow(/energy of the new pack/);
  });
});
