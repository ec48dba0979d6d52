import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { axeViolations, sidewaysScroll_px } from './harness.js';
import { openReader, patient, type Reader } from './open-reader.js';

let reader: Reader;
beforeAll(async () => {
  reader = await openReader();
});
afterEach(() => reader.checkErrors());
afterAll(() => reader.close());

const whatIfs = () => reader.page.locator('table.whatifs');
const asked = async () => (await whatIfs().locator('tr.pick').textContent()) ?? '';
const open = async () => {
  await reader.goTo('life');
  await whatIfs().waitFor();
};

describe('the life page', { timeout: 120_000 }, () => {
  test('opens with which set-up lasts longest and how firm that is, and draws a band for each', async () => {
    await open();
    expect(await reader.answer()).toMatch(
      /lasts longest in .* \(chance .*%\): .* times as long as in bare\.$/,
    );
    const bands = reader.page.getByRole('img', { name: /^Capacity over the years/ });
    expect(await bands.getAttribute('aria-label')).toMatch(
      /bare: .*plate on strips: .* % left after 5 years/,
    );
    const text = (await reader.page.locator('main').textContent()) ?? '';
    expect(text).toMatch(/Why do models differ\?/);
    expect(text).not.toMatch(/\bsafe/i);
  });

  test('weighs a charge limit as it is moved by keyboard, and forgets it again', async () => {
    await open();
    expect(await asked()).toMatch(/move a slider/);
    const limit = reader.page.getByRole('slider', { name: 'Charge to' });
    await limit.focus();
    for (let i = 0; i < 20; i++) await reader.page.keyboard.press('ArrowLeft');
    expect((await limit.getAttribute('aria-valuetext'))?.replace(/\s/g, ' ')).toBe('80 %');
    await expect.poll(asked, patient).toMatch(/as set here[\d.]+ to [\d.]+ years/);
    // The same change stands in the table, in other draws: its ratios agree to a few hundredths.
    const ratioOf = (row: string) => Number(/years(\d+\.\d\d) to/.exec(row)?.[1]);
    const fixed = (await whatIfs().locator('tr', { hasText: 'charge to 80' }).textContent()) ?? '';
    const off = async () => Math.abs(ratioOf(await asked()) - ratioOf(fixed));
    await expect.poll(off, patient).toBeLessThan(0.05);
    await reader.page.getByRole('button', { name: 'As it is again' }).click();
    await expect.poll(asked, patient).toMatch(/move a slider/);
  });

  test('asks of another set-up', async () => {
    await open();
    await reader.page.getByLabel('In the set-up').selectOption('strips');
    await expect
      .poll(
        () => reader.page.getByRole('heading', { name: /goes through in plate on strips/ }).count(),
        patient,
      )
      .toBe(1);
  });

  test('the duty is changed in the build, counts at once, and is taken back by undo', async () => {
    await open();
    const hours = async () => (await reader.stored()).build.dutyYear?.activities[0]?.h_per_day;
    const before = await hours();
    const answer = await reader.page.locator('.cond').first().textContent();
    const field = reader.page.getByLabel('Hours a day').first();
    await field.fill('1');
    await field.press('Tab');
    await expect.poll(hours, patient).toBe(1);
    await expect.poll(() => reader.page.locator('.cond').first().textContent(), patient).not.toBe(answer);
    await reader.page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(hours, patient).toBe(before);
    await expect.poll(() => reader.page.locator('.cond').first().textContent(), patient).toBe(answer);
  });

  test('an activity of 25 hours a day is refused at its field, and nothing of it is kept', async () => {
    await open();
    const before = await reader.stored();
    const field = reader.page.getByLabel('Hours a day').first();
    await field.fill('25');
    await field.press('Tab');
    await expect.poll(() => field.getAttribute('aria-invalid'), patient).toBe('true');
    expect((await reader.stored()).build).toEqual(before.build);
    await field.fill(String(before.build.dutyYear?.activities[0]?.h_per_day));
    await field.press('Tab');
    await expect.poll(() => field.getAttribute('aria-invalid'), patient).not.toBe('true');
  });

  test('takes the duty from a log of use, says what it found, and what is wrong with one that is none', async () => {
    await open();
    const use = async () => (await reader.stored()).build.dutyYear?.activities.map(({ id }) => id);
    const before = await use();
    const log = reader.page.getByLabel('Log of use');
    const words = reader.page.locator('#duty-year [role=status]');
    const give = (name: string, text: string) =>
      log.setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
    await give('bad.csv', 'time,power (W)\nnoon,3\n');
    await expect
      .poll(() => words.textContent(), patient)
      .toMatch(/Nothing was taken .*bad\.csv:2.*"noon" is no time/);
    expect(await use()).toEqual(before);
    const rows = Array.from(
      { length: 2 * 144 },
      (_, i) => `${600 * i},${i % 144 > 108 && i % 144 < 127 ? 4 : 0.02}`,
    );
    await give('use.csv', `time (s),power (W)\n${rows.join('\n')}\n`);
    await expect.poll(use, patient).toEqual(['use']);
    expect(await words.textContent()).toMatch(/Power from "power \(W\)"/);
    expect((await reader.stored()).build.dutyYear?.activities[0]?.h_per_day).toBeCloseTo(3, 0);
    await reader.page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(use, patient).toEqual(before);
  });

  test('falls back on the bracket, and says why, where the chemistry names no cathode', async () => {
    await reader.goTo('build');
    const chemistry = reader.page.locator('#new-pack').getByLabel('Chemistry');
    await chemistry.fill('lithium-ion pouch');
    await chemistry.press('Tab');
    await expect
      .poll(async () => (await reader.stored()).build.newPack?.chemistry, patient)
      .toBe('lithium-ion pouch');
    await reader.goTo('life');
    await expect.poll(reader.answer, patient).toMatch(/No year count/);
    expect(await reader.page.locator('main').textContent()).toMatch(/names no cathode/);
    expect(await axeViolations(reader.page)).toEqual([]);
    await reader.page.getByRole('button', { name: 'Undo' }).click();
    await whatIfs().waitFor();
  });

  test('fits a phone, folded tables open, without a fault of access', async () => {
    await reader.page.setViewportSize({ width: 390, height: 844 });
    await open();
    await reader.page.evaluate(() => {
      for (const fold of document.querySelectorAll<HTMLDetailsElement>('main details')) fold.open = true;
    });
    expect(await axeViolations(reader.page)).toEqual([]);
    expect(await sidewaysScroll_px(reader.page)).toBe(0);
  });
});
