/** What holds on every page: order by hand or by key, steps back, two windows on one build, the list, the way past the navigation. */
import type { Build } from '@soakbench/core/records';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Bench, type BenchPage, startBench } from './harness.js';

const id = 'reedling-r2';
const patient = { timeout: 10_000 };

let bench: Bench;
let open: BenchPage;
beforeAll(async () => {
  bench = await startBench({ demo: true });
  open = await bench.openPage(`#/builds/${id}/build`, { viewport: { width: 1440, height: 1000 } });
});
afterAll(() => bench.close());

const stored = async () =>
  ((await (await fetch(`${bench.address}api/builds/${id}`)).json()) as { build: Build }).build;

describe('the layers of a set-up', () => {
  const materials = async () => (await stored()).setups.at(-1)?.layers.map(({ material }) => material);
  const grip = (index: number) => open.page.locator('ol.stack').last().locator('.grip').nth(index);
  let first: string[];
  let swapped: string[];
  beforeAll(async () => {
    first = (await materials()) ?? [];
    const [one, two, ...rest] = first as [string, string, ...string[]];
    swapped = [two, one, ...rest];
    expect(one).not.toBe(two);
  });

  test('are moved by the arrow keys, and the cursor goes with the layer', async () => {
    const name = (await grip(0).getAttribute('aria-label'))?.split(',')[0];
    await grip(0).focus();
    await open.page.keyboard.press('ArrowDown');
    await expect.poll(materials, patient).toEqual(swapped);
    const focused = await open.page.evaluate(() => document.activeElement?.getAttribute('aria-label'));
    expect(focused).toContain(`${name}, layer 2 of`);
  });

  test('go back with Ctrl+Z and forth with Ctrl+Shift+Z', async () => {
    await open.page.keyboard.press('Control+z');
    await expect.poll(materials, patient).toEqual(first);
    await open.page.keyboard.press('Control+Shift+z');
    await expect.poll(materials, patient).toEqual(swapped);
    await open.page.keyboard.press('Control+z');
    await expect.poll(materials, patient).toEqual(first);
  });

  test('are dragged by their grip', async () => {
    await grip(0).scrollIntoViewIfNeeded();
    const [from, to] = [await grip(0).boundingBox(), await grip(1).boundingBox()];
    if (!from || !to) throw new Error('The grips are not on the page.');
    const { mouse } = open.page;
    await mouse.move(from.x + 20, from.y + 15);
    await mouse.down();
    await mouse.move(to.x + 20, to.y + 40, { steps: 6 });
    await mouse.up();
    await expect.poll(materials, patient).toEqual(swapped);
    open.checkErrors();
  });
});

test('a number that is none stays in its field, says so, and is not kept', async () => {
  const width = open.page.getByLabel('Width, mm', { exact: true }).first();
  const before = (await stored()).device?.width_mm;
  await width.fill('thin');
  await open.page.keyboard.press('Tab');
  await open.page.getByText('Not kept. Write a number here.').waitFor();
  expect(await width.inputValue()).toBe('thin');
  expect((await stored()).device?.width_mm).toBe(before);
  await width.fill(String(before));
  await open.page.keyboard.press('Tab');
  open.checkErrors();
});

test('two windows that write in one record both keep what they wrote', async () => {
  const other = await bench.openPage(`#/builds/${id}/build`);
  await open.page.getByLabel('Back shell, mm').waitFor();
  await other.page.getByLabel('Front shell, mm').fill('2,2');
  await other.page.keyboard.press('Tab');
  await expect.poll(async () => (await stored()).device?.frontShell_mm, patient).toBe(2.2);

  await open.page.getByLabel('Back shell, mm').fill('2.4');
  await open.page.keyboard.press('Tab');
  await expect.poll(async () => (await stored()).device?.backShell_mm, patient).toBe(2.4);
  expect((await stored()).device?.frontShell_mm).toBe(2.2);
  await open.page.getByText('changed in another place').waitFor();
  expect(await open.page.getByLabel('Front shell, mm').inputValue()).toBe('2.2');
  other.checkErrors();
  // The browser itself reports the refused save; the page has dealt with it.
  open.checkErrors(/409 \(Conflict\)/);
  await other.close();
});

test('a build is removed from the list and brought back', async () => {
  const list = await bench.openPage('#/');
  await list.page.getByRole('button', { name: 'Remove' }).first().click();
  await list.page.getByText('is removed').waitFor();
  await list.page.getByRole('heading', { name: 'How the job goes' }).waitFor();
  await list.page.getByRole('button', { name: 'Undo' }).click();
  await list.page.getByRole('link', { name: 'Reedling R2' }).waitFor();
  list.checkErrors();
  await list.close();
});

test('the first Tab leads past the navigation, and the address stays', async () => {
  const reader = await bench.openPage(`#/builds/${id}/probes`);
  await reader.page.getByRole('link', { name: 'Skip to the answer' }).waitFor({ state: 'attached' });
  await reader.page.keyboard.press('Tab');
  await reader.page.keyboard.press('Enter');
  await expect.poll(() => reader.page.evaluate(() => document.activeElement?.id), patient).toBe('main');
  await expect.poll(() => new URL(reader.page.url()).hash, patient).toBe(`#/builds/${id}/probes`);
  expect(await reader.page.evaluate(() => document.activeElement?.id)).toBe('main');
  reader.checkErrors();
  await reader.close();
});
