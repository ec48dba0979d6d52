/**
 * The heat page with a second solver thread. The page takes one on four cores and more, which the machine at hand may not have: so the
 * count of cores that its worker sees is written into the script on its way to the browser, for one page as 1, for the other as 4.
 */
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type BenchPage, startBench } from './harness.js';
import { demo, patient, type Stored } from './open-reader.js';

const calibrating = { timeout: 300_000 };
const heatWorker = /\/assets\/heat-worker-[^/]*\.js$/;

let bench: Awaited<ReturnType<typeof startBench>>;
beforeAll(async () => {
  bench = await startBench({ demo: true });
  // Two set-ups are enough to calibrate by, and take half the time.
  const address = `${bench.address}api/builds/${demo}`;
  const { build, revision } = (await (await fetch(address)).json()) as Stored;
  const fewer = {
    ...build,
    setups: build.setups.filter(({ id }) => id === 'bare' || id === 'plate'),
    runs: build.runs.filter(({ setup }) => setup === 'bare' || setup === 'plate'),
  };
  const answer = await fetch(address, {
    method: 'PUT',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ build: fewer, revision, what: 'Leave two set-ups' }),
  });
  expect(answer.status, await answer.clone().text()).toBe(200);
});
afterAll(() => bench.close());

/**
 * Tells the page how often the solving thread was woken by another one, which only a helper that works does: "ok" is the answer of a wait
 * that another thread ended.
 */
const countMeetings = `{
  const told = new BroadcastChannel('meetings');
  const wait = Atomics.wait;
  let times = 0;
  Atomics.wait = (...all) => {
    const ended = wait(...all);
    if (ended === 'ok' && ++times % 20 === 1) told.postMessage(null);
    return ended;
  };
}`;

/** What the worker sees of the machine. On a busy one a solver would go on alone: it waits here, or nothing were tested. */
async function prepare(context: BrowserContext, cores: number): Promise<void> {
  await context.route(heatWorker, async (route) => {
    const response = await route.fetch();
    const script = await response.text();
    expect(script).toContain('count:1,now_ms:');
    const seen = `Object.defineProperty(navigator, 'hardwareConcurrency', { value: ${cores} });`;
    const waiting = script.replace('count:1,now_ms:', 'count:1,waits:!0,now_ms:');
    await route.fulfill({ response, body: `${seen}\n${countMeetings}\n${waiting}` });
  });
}

async function openHeat(cores: number): Promise<BenchPage> {
  const opened = await bench.openPage('#/');
  await prepare(opened.page.context(), cores);
  await opened.page.evaluate(() => {
    const seen = globalThis as unknown as { meetings: number };
    seen.meetings = 0;
    new BroadcastChannel('meetings').onmessage = () => {
      seen.meetings += 1;
    };
  });
  await opened.page.goto(`${bench.address}#/builds/${demo}/heat`);
  return opened;
}

const meetings = (page: Page) =>
  page.evaluate(() => (globalThis as unknown as { meetings: number }).meetings);

/** All figures of the page, and every pixel of its fields. */
async function whatItShows(page: Page): Promise<{ words: string[]; fields: string[] }> {
  await page.locator('.heatpair canvas').first().waitFor(calibrating);
  await page.locator('.live:not(.provisional)').waitFor(patient);
  return page.evaluate(() => {
    for (const fold of document.querySelectorAll<HTMLDetailsElement>('main details')) fold.open = true;
    return {
      words: [...document.querySelectorAll('main .answer, main td, main th')].map(
        (each) => each.textContent ?? '',
      ),
      fields: [...document.querySelectorAll<HTMLCanvasElement>('main .heatpair canvas')].map((each) =>
        each.toDataURL(),
      ),
    };
  });
}

test(
  'calibrates with a second thread, can be stopped meanwhile, and shows what one thread shows, to the digit and the pixel',
  calibrating,
  async () => {
    const one = await openHeat(1);
    const alone = await whatItShows(one.page);
    expect(await meetings(one.page)).toBe(0);
    one.checkErrors();
    await one.close();

    const two = await openHeat(4);
    const { page } = two;
    expect(await page.evaluate(() => crossOriginIsolated)).toBe(true);
    await expect.poll(() => meetings(page), patient).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.getByText('Calibrating was stopped.').waitFor(patient);
    // Chromium lets a worker that computes go on for two seconds after it was ended.
    const fromNow = async () => {
      const before = await meetings(page);
      await page.waitForTimeout(1000);
      return (await meetings(page)) - before;
    };
    await expect.poll(fromNow, patient).toBe(0);
    const whenStopped = await meetings(page);

    await page.getByRole('button', { name: 'Calibrate the model' }).click();
    const together = await whatItShows(page);
    expect(await meetings(page)).toBeGreaterThan(whenStopped);
    expect(alone.words.length).toBeGreaterThan(100);
    expect(together.words).toEqual(alone.words);
    expect(together.fields).toEqual(alone.fields);
    two.checkErrors();
    await two.close();
  },
);
