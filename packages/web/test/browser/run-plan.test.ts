/** A run plan drawn, begun, ticked off by the runs that come in, and dropped: as a person does it, on the real server. */
import type { Build } from '@soakbench/core/records';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Bench, type BenchPage, startBench } from './harness.js';

const id = 'reedling-r2';
const patient = { timeout: 15_000 };

let bench: Bench;
let open: BenchPage;
beforeAll(async () => {
  bench = await startBench({ demo: true });
  open = await bench.openPage(`#/builds/${id}/compare`, { viewport: { width: 1440, height: 1000 } });
});
afterAll(() => bench.close());

interface Stored {
  readonly build: Build;
  readonly revision: number;
}
const stored = async () => (await (await fetch(`${bench.address}api/builds/${id}`)).json()) as Stored;
const lines = () => open.page.locator('.plan-runs > li');

test('is drawn from how many runs each set-up needs', async () => {
  const plan = open.page.locator('.run-plan');
  await plan.getByLabel('plate', { exact: true }).fill('1');
  await plan.getByLabel('plate on strips').fill('1');
  await plan.getByRole('button', { name: 'Draw the order' }).click();
  await lines().first().waitFor(patient);
  await expect.poll(async () => (await stored()).build.runPlan?.runs.length, patient).toBe(2);
  const setups = (await stored()).build.runPlan?.runs.map(({ setup }) => setup).sort();
  expect(setups).toEqual(['plate', 'strips']);
  expect(await lines().nth(0).textContent()).toContain('next');
  expect(await lines().nth(1).textContent()).toContain('open');
});

test('offers its next run to be begun, and remembers when', async () => {
  await lines().nth(0).getByRole('button', { name: 'Begin' }).click();
  await expect.poll(async () => (await stored()).build.runPlan?.runs[0]?.startedAt, patient).toBeTruthy();
  await expect.poll(() => lines().nth(0).textContent(), patient).toContain('under way since');
});

test('is ticked off by a run of that set-up, which any window may bring', async () => {
  const { build, revision } = await stored();
  const setup = build.runPlan?.runs[0]?.setup;
  const like = build.runs.find((run) => run.setup === setup);
  const made = {
    ...like,
    id: 'made-by-plan',
    name: 'Made by plan',
    mounting: 'another',
    session: 'planned 1',
  };
  const answer = await fetch(`${bench.address}api/builds/${id}`, {
    method: 'PUT',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({
      build: { ...build, runs: [...build.runs, made] },
      revision,
      what: 'A run from elsewhere',
    }),
  });
  expect(answer.status).toBe(200);
  await open.page.reload();
  await expect.poll(() => lines().nth(0).textContent(), patient).toContain('done, Made by plan');
  await expect.poll(() => lines().nth(1).textContent(), patient).toContain('next');
});

test('goes onto paper alone', async () => {
  await open.page.evaluate(() => {
    document.body.dataset['print'] = 'run-plan';
  });
  await open.page.emulateMedia({ media: 'print' });
  expect(await open.page.locator('.run-plan').isVisible()).toBe(true);
  expect(await open.page.getByRole('heading', { name: 'Differences, pair by pair' }).isVisible()).toBe(false);
  await open.page.emulateMedia({ media: null });
  await open.page.evaluate(() => {
    delete document.body.dataset['print'];
  });
});

test('is dropped, and Undo brings it back', async () => {
  await open.page.getByRole('button', { name: 'Drop it and draw anew' }).click();
  await expect.poll(async () => (await stored()).build.runPlan, patient).toBeUndefined();
  await open.page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(async () => (await stored()).build.runPlan?.runs.length, patient).toBe(2);
  open.checkErrors();
});
