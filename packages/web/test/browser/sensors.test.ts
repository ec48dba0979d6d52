/** Raw signals from the page's side: a probe says what it is made of, and a log of millivolts and ohms becomes a run. */
import type { Build, Probe } from '@soakbench/core/records';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { dropLog, signalLog, truth } from './drop-log.js';
import { axeViolations, sidewaysScroll_px } from './harness.js';
import { openReader, patient, type Reader } from './open-reader.js';

let reader: Reader;
beforeAll(async () => {
  reader = await openReader();
});
afterAll(() => reader.close());
afterEach(() => reader.checkErrors());

const probes = () =>
  reader.page
    .locator('main section')
    .filter({
      has: reader.page.getByRole('heading', { name: 'Probes', exact: true }),
    })
    .last();
const field = (label: string, nth = 0) => probes().getByLabel(label, { exact: true }).nth(nth);
const storedProbe = async (index: number): Promise<Probe | undefined> =>
  (await reader.stored()).build.probes[index];

test('a probe says what it is made of, and the page what its doubt stands on', async () => {
  await reader.goTo('probes');
  await field('Sensor', 1).selectOption('thermocouple');
  await expect.poll(() => probes().textContent()).toContain('Still needed: type.');
  await field('Type').selectOption('K');
  await field('Cold junction').selectOption({ label: 'at a stated temperature' });
  await field('Terminals at, °C').fill('23,5');
  await reader.page.keyboard.press('Tab');
  await expect
    .poll(async () => (await storedProbe(1))?.sensor, patient)
    .toEqual({ kind: 'thermocouple', type: 'K', coldJunction: { kind: 'fixed', fixed_C: 23.5 } });
  const sensors = reader.page.getByRole('table', { name: /Sensors|What each probe is made of/ });
  await expect
    .poll(() => sensors.textContent(), patient)
    .toContain('Type K thermocouple, class 2 (not stated), cold junction taken to be at 23.5 °C');

  await field('Sensor', 2).selectOption('ntc-table');
  const rows = field('°C and Ω, a pair on each line');
  await rows.fill('25 10000\n60');
  await reader.page.keyboard.press('Tab');
  await expect.poll(() => probes().textContent()).toContain('Line 2 is not a pair of numbers.');
  await rows.fill('0 27280\n25 10000\n60 3020\n100 973,1');
  await reader.page.keyboard.press('Tab');
  await expect.poll(async () => (await storedProbe(2))?.sensor?.kind, patient).toBe('ntc-table');
  expect(await axeViolations(reader.page)).toEqual([]);
  await reader.page.setViewportSize({ width: 390, height: 844 });
  expect(await sidewaysScroll_px(reader.page)).toBe(0);
  await reader.page.setViewportSize({ width: 1440, height: 900 });
});

test('a probe that states its sensor is read in its own signal in a bath', async () => {
  const bath = reader.page.locator('.points > .items > li').first();
  await bath.getByText('Readings no. 3', { exact: true }).click();
  const { id = '', name = '' } = (await storedProbe(1)) ?? {};
  const readings = async () =>
    (await reader.stored()).build.probeChecks[0]?.points[0]?.readings.filter((each) => each.probe === id);
  const before = (await readings()) ?? [];
  // [NIST-MONO-175], type K: half-way between the printed 0.919 mV at 23 °C and 0.960 mV at 24 °C, for the stated 23.5 °C.
  await bath.getByLabel(`${name}, no. 3, mV`, { exact: true }).fill('−0,94');
  await reader.page.keyboard.press('Tab');
  await expect.poll(readings, patient).toEqual([...before, { probe: id, reading_mV: -0.94 }]);
  await reader.page.getByText('Every check point, and what the correction leaves').click();
  const table = reader.page.getByRole('table', { name: /^What each probe read in each bath/ });
  await expect.poll(() => table.textContent(), patient).toMatch(/[−-]?0\.0[0-3] \(−0\.94 mV\)/);

  await bath.getByLabel(`${name}, no. 3, °C`, { exact: true }).fill('0,1');
  await reader.page.keyboard.press('Tab');
  await expect.poll(() => bath.textContent()).toContain('Still needed: each reading in one unit only.');
  await bath.getByLabel(`${name}, no. 3, mV`, { exact: true }).fill('');
  await reader.page.keyboard.press('Tab');
  await expect.poll(readings, patient).toEqual([...before, { probe: id, reading_C: 0.1 }]);
  await reader.page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(readings, patient).toEqual([...before, { probe: id, reading_mV: -0.94 }]);
  expect(await axeViolations(reader.page)).toEqual([]);
  await reader.page.setViewportSize({ width: 390, height: 844 });
  expect(await sidewaysScroll_px(reader.page)).toBe(0);
  await reader.page.setViewportSize({ width: 1440, height: 900 });
});

test('a log of raw signals becomes a run of a new build, sensors chosen on the way', async () => {
  const { address } = reader.bench;
  const made = await fetch(`${address}api/builds`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: address.slice(0, -1) },
    body: JSON.stringify({ name: 'Raw signals' }),
  });
  expect(made.status).toBe(201);
  await reader.goTo('runs', 'raw-signals');
  await dropLog(reader.page, 'signals.csv', signalLog(25.5));
  const dialog = reader.page.getByRole('dialog');
  const choose = (label: string, option: string) =>
    dialog.getByLabel(label, { exact: true }).selectOption(option);
  await choose('Probe of 2, C1 (mV)', 'new probe on a cell');
  await choose('Probe of 3, A (ohm)', 'new probe in the room’s air');
  await expect
    .poll(() => dialog.textContent())
    .toContain('does not state what sensor makes a temperature of it');
  await choose('Sensor of C1', 'type K thermocouple');
  await choose('Sensor of A', 'Pt100');
  await expect.poll(() => dialog.textContent(), patient).not.toContain('does not state');
  expect(await axeViolations(reader.page)).toEqual([]);
  await choose('Set-up', 'new set-up: bare, no layers');
  await dialog.getByLabel('Session', { exact: true }).fill('a day');
  await choose('Was the pack being charged?', 'no');
  await dialog.getByRole('button', { name: 'Import log' }).click();
  await reader.page.waitForURL(/runs\/run-1-bare$/);

  // Derived from the law the log is made of, as for a log of temperatures.
  await expect.poll(reader.answer, patient).toContain('C1 settles');
  const rise_K = Number(/settles ([\d.]+) ±/.exec(await reader.answer())?.[1]);
  expect(Math.abs(rise_K - truth.load_K)).toBeLessThan(0.2);
  const kept = (await (await fetch(`${address}api/builds/raw-signals`)).json()) as { build: Build };
  expect(kept.build.runs[0]?.recipe.channels).toEqual([
    { column: 1, header: 'C1 (mV)', unit: 'mV', probe: 'c1' },
    { column: 2, header: 'A (ohm)', unit: 'ohm', probe: 'a' },
    { column: 3, header: 'terminals (°C)', unit: 'C', coldJunction: true },
  ]);
});
