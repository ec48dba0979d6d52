import { formatNumber, plainText } from '@soakbench/core/measure';
import type { CompareResult, RunsResult, Verdict } from '@soakbench/core/verdict';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { axeViolations, faces, sidewaysScroll_px } from './harness.js';
import { openReader, patient, type Reader } from './open-reader.js';

let reader: Reader;
beforeAll(async () => {
  reader = await openReader();
});
afterEach(() => reader.checkErrors());
afterAll(() => reader.close());

describe('the numbers on the pages are those of the server', () => {
  test('verdict, compare and runs answer in the same words', async () => {
    const sentences = {
      verdict: (await reader.ask<Verdict>('/verdict')).answer,
      compare: (await reader.ask<CompareResult>('/compare')).answer,
      runs: (await reader.ask<RunsResult>('/runs')).answer,
    };
    for (const [place, sentence] of Object.entries(sentences)) {
      await reader.goTo(place);
      expect(await reader.answer(), place).toBe(plainText(sentence));
    }
  });

  test('every margin against a stop limit stands in its row of the table', async () => {
    const { margins } = await reader.ask<CompareResult>('/compare');
    await reader.goTo('compare');
    const table = reader.page.getByRole('region', { name: 'Margins by state and set-up' });
    const rows = (await table.locator('tbody tr:not(.st)').allTextContents()).map((row) => row.trim());
    const judged = margins.filter(({ limit }) => limit.level === 'stop');
    expect(judged.length).toBeGreaterThan(0);
    expect(rows).toHaveLength(judged.length);
    const known = judged.filter(({ margin_K, level }) => margin_K !== null && level !== 'unknown');
    for (const { margin_K, setup, title } of known) {
      const figure = formatNumber(margin_K ?? Number.NaN, 1);
      expect(
        rows.filter((row) => row.includes(figure)).length,
        `${setup}, ${title}: ${figure}`,
      ).toBeGreaterThan(0);
    }
  });

  test('another quantity can be chosen, and its figures are its own', async () => {
    const { others } = await reader.ask<CompareResult>('/compare');
    const other = others.find(({ quantity }) => quantity.phase === 'idle' && !quantity.charging);
    if (!other) throw new Error('The example has no rise at idle.');
    await reader.goTo('compare');
    const { probe, phase, charging } = other.quantity;
    await reader.page.getByLabel('Compared at').selectOption([probe, phase, charging].join(' '));
    const chart = reader.page.locator('figure').first().getByRole('img');
    await expect
      .poll(() => chart.getAttribute('aria-label'))
      .toContain(formatNumber(other.setups[0]?.rise_K.value ?? Number.NaN, 1));
  });
});

describe('the phases of a run', () => {
  const slider = (name: string) => reader.page.getByRole('slider', { name, exact: true });
  const grip = () => slider('idle ends, load begins');
  const standsAt = async (name: string) => Number(await slider(name).getAttribute('aria-valuenow'));
  const gripValue = () => standsAt('idle ends, load begins');
  const phaseOf = async (kind: string) =>
    (await reader.storedRun('run-05')).phases?.find((phase) => phase.kind === kind);
  const loadBegins = async () => (await phaseOf('load'))?.from_s;

  test('are corrected by keyboard, one step of undo for the burst, and taken back', async () => {
    await reader.goTo('runs/run-05');
    const from_s = await gripValue();
    expect(await loadBegins()).toBeUndefined();
    await grip().focus();
    for (const key of ['ArrowRight', 'ArrowRight', 'ArrowRight', 'Shift+ArrowLeft']) {
      await reader.page.keyboard.press(key);
    }
    // Three rows on and ten back, ten seconds each, from the row nearest to where the limit was.
    const expected_s = Math.round(from_s / 10) * 10 - 70;
    await expect.poll(loadBegins, patient).toBe(expected_s);
    expect((await phaseOf('idle'))?.to_s).toBe(expected_s);
    const [h, m, s] = [Math.floor(expected_s / 3600), Math.floor(expected_s / 60) % 60, expected_s % 60];
    const words = `${h}:${String(m).padStart(2, '0')}:${String(s).padStart(2, '0')} after the start`;
    expect(await grip().getAttribute('aria-valuetext')).toBe(words);

    await reader.page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(loadBegins, patient).toBeUndefined();
    await expect.poll(gripValue, patient).toBe(from_s);
  });

  test('are dragged by the pointer, and found in the data again', async () => {
    await reader.goTo('runs/run-05');
    const from_s = await gripValue();
    const middle = async (name: string) => {
      const box = await slider(name).locator('.body').boundingBox();
      if (!box) throw new Error(`The grip "${name}" is not on the page.`);
      return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    };
    const [first, last, at] = [
      await middle('idle begins'),
      await middle('cool ends'),
      await middle('idle ends, load begins'),
    ];
    const perPixel_s = ((await standsAt('cool ends')) - (await standsAt('idle begins'))) / (last.x - first.x);
    const { mouse } = reader.page;
    await mouse.move(at.x, at.y);
    await mouse.down();
    await mouse.move(at.x - 30, at.y, { steps: 5 });
    await mouse.up();
    await expect.poll(loadBegins, patient).toBeDefined();
    // The pointer can be off by half a pixel at each end, and the limit goes to the nearest row.
    const off_s = Math.abs(from_s - 30 * perPixel_s - ((await loadBegins()) ?? Number.NaN));
    expect(off_s).toBeLessThan(perPixel_s + 5);

    await reader.page.getByRole('button', { name: 'Find phases again' }).click();
    await expect.poll(loadBegins, patient).toBeUndefined();
    await expect.poll(gripValue, patient).toBe(from_s);
  });
});

test('a run is set aside with a reason, and counted again', async () => {
  await reader.goTo('runs/run-12');
  const { page } = reader;
  const reason = async () => (await reader.storedRun('run-12')).setAside;
  await page.getByRole('button', { name: 'Set aside' }).click();
  expect(await page.locator('main').textContent()).toContain('Write why');
  expect(await reason()).toBeUndefined();
  await page.getByLabel('Reason').fill('The plug of C1 was loose.');
  await page.keyboard.press('Enter');
  await expect.poll(reason, patient).toBe('The plug of C1 was loose.');
  await expect.poll(reader.answer, patient).toContain('not counted: The plug of C1 was loose.');
  await page.getByRole('button', { name: 'Count it again' }).click();
  await expect.poll(reason, patient).toBeUndefined();
  await expect.poll(reader.answer, patient).not.toContain('not counted');
});

test.each(['verdict', 'compare', 'life', 'dossier'])(
  '%s shrinks with its window, drawings and all',
  async (place) => {
    const { page } = reader;
    await page.setViewportSize({ width: 1440, height: 900 });
    await reader.goTo(place);
    for (const width of [1152, 1024, 900]) {
      await page.setViewportSize({ width, height: 900 });
      await expect.poll(() => sidewaysScroll_px(page), patient).toBe(0);
    }
  },
);

describe.each(faces)('at $width px, $colorScheme', ({ width, height, colorScheme }) => {
  const places = ['verdict', 'runs', 'runs/run-07', 'compare', 'life', 'dossier'];
  test.each(places)('%s is without a fault of access and fits', async (place) => {
    const { page } = reader;
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    await reader.goTo(place);
    // Folded tables are part of the page: they are judged open.
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll<HTMLDetailsElement>('main details')) fold.open = true;
    });
    expect(await axeViolations(page)).toEqual([]);
    expect(await sidewaysScroll_px(page)).toBe(0);
  });
});
