import { plainText } from '@soakbench/core/measure';
import { correctProbes, correctReading_C } from '@soakbench/core/probes';
import type { Build } from '@soakbench/core/records';
import type { Verdict } from '@soakbench/core/verdict';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { dropLog, exampleLog, jumpingLog, longFormLog, setBackRows, truth } from './drop-log.js';
import { axeViolations, sidewaysScroll_px } from './harness.js';
import { demo, openReader, patient, type Reader } from './open-reader.js';

let reader: Reader;
beforeAll(async () => {
  reader = await openReader();
});
afterAll(() => reader.close());
/** The browser itself reports an answer of 422; that a refusal was meant is seen by the test that provoked it. */
afterEach(() => reader.checkErrors(/status of 422/));

const dialog = () => reader.page.getByRole('dialog');
const alert = () => reader.page.getByRole('alert');
const field = (label: string) => dialog().getByLabel(label, { exact: true });
const send = () => dialog().getByRole('button', { name: 'Import log' }).click();
const revision = async () => (await reader.stored()).revision;

async function answerAll(): Promise<void> {
  await dialog()
    .getByRole('radio', { name: /Day first/ })
    .check();
  await field('Set-up').selectOption('plate');
  await field('Session').fill('a day in April');
  await field('Was the pack being charged?').selectOption('no');
}

/** Declines the recipe of an earlier log, so that the log is asked about anew. */
async function lookAfresh(): Promise<void> {
  await dialog().getByRole('button', { name: 'Look at it afresh' }).click();
}

/** The rise of the log's truth as the probes of the build, corrected by their checks, must tell it. */
function correctedRise_K(build: Build): number {
  const corrections = correctProbes(build);
  const correctionAt_K = (id: string, reading_C: number) => {
    const correction = corrections.find(({ probe }) => probe === id);
    expect(correction, id).toBeDefined();
    return correction === undefined ? Number.NaN : correctReading_C(correction, reading_C) - reading_C;
  };
  const { room_C, load_K } = truth;
  return load_K + correctionAt_K('c1', room_C + load_K) - correctionAt_K('a', room_C);
}

async function leave(): Promise<void> {
  await reader.page.keyboard.press('Escape');
  await dialog().waitFor({ state: 'detached' });
}

describe('a log dropped on a page', () => {
  test('is asked about, read, stored as it came, and judged', async () => {
    const before = await revision();
    await reader.goTo('verdict');
    await dropLog(reader.page, 'evening.csv', exampleLog());
    await dialog().waitFor();
    expect(await axeViolations(reader.page)).toEqual([]);

    // What only a person can know is asked, and nothing is sent before it is answered.
    await send();
    expect(await dialog().textContent()).toContain('Before it can be imported');
    expect(await revision()).toBe(before);

    await answerAll();
    await expect.poll(() => dialog().textContent()).toContain('2025-04-05 09:00:00');
    await field('Load, W').fill('5,2');
    await send();
    await reader.page.waitForURL(/runs\/run-16-plate$/);
    expect(await reader.storedRun('run-16-plate')).toMatchObject({
      setup: 'plate',
      session: 'a day in April',
      conditions: { load_W: 5.2, charging: false },
    });
    const bytes = await fetch(`${reader.bench.address}api/builds/${demo}/logs/evening.csv`);
    expect(await bytes.text()).toBe(exampleLog());

    // Derived from the law the log is made of, Newton's law of cooling, and from what the checks say of the two probes;
    // 0.2 K is two of the log's own steps.
    await expect.poll(reader.answer, patient).toContain('settles');
    const rise_K = Number(/settles ([\d.]+) ±/.exec(await reader.answer())?.[1]);
    expect(Math.abs(rise_K - correctedRise_K((await reader.stored()).build))).toBeLessThan(0.2);

    await reader.goTo('verdict');
    const grounds = reader.page.getByRole('heading', { name: 'What it rests on' }).locator('..');
    await expect.poll(() => grounds.textContent(), patient).toContain('15 runs in 4 sessions');
    expect(await reader.answer()).toBe(plainText((await reader.ask<Verdict>('/verdict')).answer));
  });

  test('twice is refused by name', async () => {
    const before = await revision();
    await reader.goTo('runs');
    await dropLog(reader.page, 'again.csv', exampleLog());
    // The columns are those of the log before, so it is read as that was, until a person declines.
    await expect
      .poll(() => dialog().textContent())
      .toContain('It has the columns of the log of Run 16, plate');
    expect(await dialog().getByRole('radio').count()).toBe(0);
    expect(await dialog().textContent()).toContain('2025-04-05 09:00:00');
    expect(await axeViolations(reader.page)).toEqual([]);
    await lookAfresh();
    await answerAll();
    await send();
    await expect.poll(() => alert().textContent()).toContain('the same bytes');
    expect(await revision()).toBe(before);
    await leave();
  });
});

describe('the recipe', () => {
  test('is corrected with the columns and the first rows following at once', async () => {
    await reader.goTo('runs');
    await dropLog(reader.page, 'corrected.csv', exampleLog());
    await lookAfresh();
    await dialog().getByText('Correct how the text and the time are read').click();
    const columns = () => dialog().locator('.channels h4').allTextContents();
    expect(await columns()).toEqual(['2, C1 (°C)', '3, A (°C)']);
    await field('Cells are parted by').selectOption('tab');
    await expect.poll(columns).toEqual([]);
    expect(await dialog().textContent()).toContain('one column only');
    await field('Cells are parted by').selectOption('semicolon');
    await expect.poll(columns).toEqual(['2, C1 (°C)', '3, A (°C)']);
    await field('Order').selectOption('month before day');
    await expect.poll(() => dialog().textContent()).toContain('2025-05-04 09:00:00');
    await field('UTC offset, min').fill('120');
    await field('UTC offset, min').press('Tab');
    await expect.poll(() => dialog().textContent()).toContain('2025-05-04 07:00:00');
    await leave();
  });
});

describe('a log of one reading a line', () => {
  const columns = () => dialog().locator('.channels h4').allTextContents();
  /** What a field says is wrong with it. */
  const errorAt = async (label: string) => {
    const ids = (await field(label).getAttribute('aria-describedby')) ?? '';
    const texts = ids.split(' ').filter((id) => id.endsWith('-e'));
    return texts.length === 0 ? '' : dialog().locator(`[id="${texts[0]}"]`).textContent();
  };

  test('is read by the columns a person names, and what cannot be had is said beside its field', async () => {
    await reader.goTo('runs');
    await dropLog(reader.page, 'readings.csv', longFormLog());
    await dialog().getByText('Correct how the text and the time are read').click();
    await field('Layout').selectOption('a reading a line');
    await expect.poll(() => errorAt('Layout')).toContain('Numbers stand in more than one column: 3 and 4.');
    expect(await field('Layout').inputValue()).toBe('long');
    // What is asked for stands and cannot be imported as something else.
    const button = dialog().getByRole('button', { name: 'Import log' });
    expect(await button.getAttribute('aria-disabled')).toBe('true');

    await field('Column of names').selectOption('4, reading');
    await field('Column of values').selectOption('4, reading');
    await expect.poll(() => errorAt('Column of values')).toContain('both the name and the value');
    expect(await errorAt('Layout')).toBe('');
    expect(await axeViolations(reader.page)).toEqual([]);
    await reader.page.setViewportSize({ width: 390, height: 844 });
    expect(await sidewaysScroll_px(reader.page)).toBe(0);
    await reader.page.setViewportSize({ width: 1440, height: 900 });
    await field('Column of names').selectOption('2, what');
    await expect.poll(columns).toEqual(['C1', 'A']);
    expect(await errorAt('Column of values')).toBe('');
    expect(await field('A row is made of').inputValue()).toBe('stamp');
    expect(await field('Time column').locator('option').allTextContents()).toEqual([
      '1, stamp',
      '2, what',
      '3, battery',
      '4, reading',
    ]);
  });

  test('becomes the run that its rows would have been', async () => {
    await field('Set-up').selectOption('plate');
    await field('Session').fill('a day in May');
    await field('Was the pack being charged?').selectOption('no');
    await send();
    await reader.page.waitForURL(/runs\/run-17-plate$/);
    expect((await reader.storedRun('run-17-plate')).recipe.layout).toEqual({
      form: 'long',
      name: 1,
      value: 3,
      by: 'stamp',
    });
    await expect.poll(reader.answer, patient).toContain('settles');
    const rise_K = Number(/settles ([\d.]+) ±/.exec(await reader.answer())?.[1]);
    expect(Math.abs(rise_K - correctedRise_K((await reader.stored()).build))).toBeLessThan(0.2);
  });
});

describe('a broken log', () => {
  test.each([
    { file: 'empty.csv', bytes: '' },
    { file: 'picture.csv', bytes: Uint8Array.from({ length: 600 }, (_, index) => (index * 89) % 256) },
    { file: 'one-column.csv', bytes: 'C1\n24.1\n24.2\n24.3\n' },
  ])('$file is named with its fault, and nothing is stored', async ({ file, bytes }) => {
    const before = await revision();
    await reader.goTo('runs');
    await dropLog(reader.page, file, bytes);
    await alert().waitFor();
    expect(await alert().textContent()).toContain(file);
    expect(await alert().textContent()).toContain('Nothing was stored');
    expect(await dialog().getByRole('button', { name: 'Import log' }).count()).toBe(0);
    expect(await axeViolations(reader.page)).toEqual([]);
    await leave();
    expect(await revision()).toBe(before);
  });

  test('whose clock jumps back far down is refused before it is sent, and what was entered stays', async () => {
    const before = await revision();
    await reader.goTo('runs');
    await dropLog(reader.page, 'jump.csv', jumpingLog());
    await lookAfresh();
    await answerAll();
    await send();
    await alert().waitFor();
    const lines = jumpingLog().trimEnd().split('\n').length;
    expect(await alert().textContent()).toContain(`jump.csv:${lines - setBackRows + 1}`);
    expect(await alert().textContent()).toContain('jumps back');
    expect(await field('Session').inputValue()).toBe('a day in April');
    expect(await field('Set-up').inputValue()).toBe('plate');
    expect(await revision()).toBe(before);
    await leave();
  });
});

describe('a build from nothing', () => {
  const id = 'from-nothing';

  test('teaches on every page', async () => {
    const { address } = reader.bench;
    const made = await fetch(`${address}api/builds`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: address.slice(0, -1) },
      body: JSON.stringify({ name: 'From nothing' }),
    });
    expect(made.status).toBe(201);
    for (const [place, words] of [
      ['verdict', 'From here to a verdict'],
      ['runs', 'No run is logged yet'],
      ['compare', 'Nothing can be compared yet'],
      ['life', 'What the heat costs is not known yet'],
      ['dossier', 'What is missing from it'],
    ] as const) {
      await reader.goTo(place, id);
      await expect.poll(() => reader.page.locator('main').textContent(), patient).toContain(words);
      expect(await axeViolations(reader.page), place).toEqual([]);
    }
  });

  test('takes its probes and its bare set-up from the first log', async () => {
    await reader.goTo('runs', id);
    await dropLog(reader.page, 'first.csv', exampleLog());
    await dialog()
      .getByRole('radio', { name: /Day first/ })
      .check();
    await field('Probe of 2, C1 (°C)').selectOption('new probe on a cell');
    await field('Probe of 3, A (°C)').selectOption('new probe in the room’s air');
    await field('Set-up').selectOption('new set-up: bare, no layers');
    await field('Was the pack being charged?').selectOption('no');
    await send();
    await reader.page.waitForURL(/runs\/run-1-bare$/);
    await expect.poll(reader.answer, patient).toContain('C1 settles');
  });
});
