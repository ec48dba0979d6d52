/** A person with a caliper and nothing else: from an empty bench to a build whose section is drawn, by the pages alone. */
import type { Build } from '@soakbench/core/records';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  axeViolations,
  type Bench,
  type BenchPage,
  faces,
  sidewaysScroll_px,
  startBench,
} from './harness.js';

let bench: Bench;
let open: BenchPage;
beforeAll(async () => {
  bench = await startBench();
  open = await bench.openPage();
});
afterAll(() => bench.close());

const stored = async () =>
  ((await (await fetch(`${bench.address}api/builds/bench-lamp`)).json()) as { build: Build }).build;

/** The part of a page under a heading. */
const part = (heading: string) =>
  open.page
    .locator('main section')
    .filter({ has: open.page.getByRole('heading', { name: heading, exact: true }) })
    .last();

async function fill(
  heading: string,
  values: readonly (readonly [label: string, value: string, nth?: number])[],
) {
  for (const [label, value, nth = 0] of values) {
    await part(heading).getByLabel(label, { exact: true }).nth(nth).fill(value);
    await open.page.keyboard.press('Tab');
  }
}

test('an empty bench says how to begin, without a fault of access', async () => {
  await open.page.getByRole('heading', { name: 'How the job goes' }).waitFor();
  expect(await axeViolations(open.page)).toEqual([]);
});

test('a build is entered from scratch and kept without a save button', async () => {
  const { page } = open;
  await page.getByLabel('Name of the device').fill('Bench lamp');
  await page.getByRole('button', { name: 'Begin a build' }).click();
  await page.waitForURL(/builds\/bench-lamp\/build$/);

  await fill('Device', [
    ['Name', 'Bench lamp'],
    ['Length, mm', '120'],
    ['Width, mm', '60'],
    ['Front shell, mm', '2'],
    ['Front gap, mm', '1,5'], // a comma is as good as a point
    ['Board, mm', '1.6'],
    ['Bay, mm', '14'],
    ['Back shell, mm', '2'],
    ['From the left, mm', '5'],
    ['From below, mm', '5'],
    ['Length, mm', '110', 1],
    ['Width, mm', '50', 1],
  ]);
  await expect.poll(async () => (await stored()).device?.frontGap_mm, { timeout: 10_000 }).toBe(1.5);

  await part('Zones').getByRole('button', { name: 'Add zone' }).click();
  await fill('Zones', [
    ['Name', 'driver'],
    ['Height on the board, mm', '2'],
    ['From the left, mm', '50'],
    ['From below, mm', '20'],
    ['Length, mm', '15'],
    ['Width, mm', '15'],
  ]);
  await expect
    .poll(async () => (await stored()).zones.map(({ name }) => name), { timeout: 10_000 })
    .toEqual(['driver']);

  await fill('New pack', [
    ['Name', 'one cell'],
    ['Cells in series', '1'],
    ['Cells in parallel', '1'],
    ['Thickness, mm', '9'],
    ['From the left, mm', '20'],
    ['From below, mm', '10'],
    ['Length, mm', '80'],
    ['Width, mm', '40'],
  ]);
  await expect.poll(async () => (await stored()).newPack?.thickness_mm, { timeout: 10_000 }).toBe(9);

  for (const name of ['bare', 'plate']) {
    await part('Set-ups').getByRole('button', { name: 'Add set-up' }).click();
    await part('Set-ups').getByLabel('Name', { exact: true }).last().fill(name);
    await page.keyboard.press('Tab');
    await expect.poll(async () => (await stored()).setups.at(-1)?.name, { timeout: 10_000 }).toBe(name);
  }
  await fill('Design ambient', [['Hottest day to be ready for, °C', '33']]);
  await expect.poll(async () => (await stored()).designAmbient?.ambient_C, { timeout: 10_000 }).toBe(33);

  // The section is drawn as soon as there is enough of it, with the total that the caliper gives: 2 + 1.5 + 1.6 + 14 + 2.
  await expect
    .poll(() => page.locator('main svg.d').first().getAttribute('aria-label'), { timeout: 10_000 })
    .toContain('21.1 mm');
  open.checkErrors();
});

test('probes are added and checked in a bath', async () => {
  const { page } = open;
  await page.goto(`${bench.address}#/builds/bench-lamp/probes`);
  await page.getByRole('button', { name: 'Add probe' }).click();
  await part('Probes').getByLabel('Name', { exact: true }).last().fill('C1');
  await part('Probes')
    .getByLabel('Where it sits', { exact: true })
    .last()
    .selectOption({ label: 'on a face of the pack' });
  await page.keyboard.press('Tab');
  const places = async () => (await stored()).probes.map(({ place }) => place);
  await expect.poll(places, { timeout: 10_000 }).toEqual(['cell']);

  await page.getByRole('button', { name: 'Add a check' }).click();
  await part('Check points')
    .getByLabel('Held in', { exact: true })
    .last()
    .selectOption({ label: 'ice in water' });
  await part('Check points').getByLabel('C1, °C', { exact: true }).last().fill('0,8');
  await page.keyboard.press('Tab');
  const readings = async () =>
    (await stored()).probeChecks.flatMap(({ points }) => points.flatMap((point) => point.readings));
  await expect.poll(readings, { timeout: 10_000 }).toEqual([{ probe: 'c1', reading_C: 0.8 }]);
  await expect
    .poll(() => page.locator('main .answer').first().textContent(), { timeout: 10_000 })
    .toContain('C1 read 0.8 K high');
  open.checkErrors();
});

test('undo takes the last step back, and redo brings it again', async () => {
  const { page } = open;
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(async () => (await stored()).probeChecks.length, { timeout: 10_000 }).toBe(0);
  await page.getByRole('button', { name: 'Redo' }).click();
  await expect.poll(async () => (await stored()).probeChecks.length, { timeout: 10_000 }).toBe(1);
  open.checkErrors();
});

test('a probe is read again in the same bath, and each reading is edited and taken out by itself', async () => {
  const { page } = open;
  await page.goto(`${bench.address}#/builds/bench-lamp/probes`);
  const readings = async () =>
    (await stored()).probeChecks.flatMap(({ points }) =>
      points.flatMap((point) => point.readings.map(({ reading_C }) => reading_C)),
    );
  const points = part('Check points');
  const field = (label: string) => points.getByLabel(label, { exact: true });
  const write = async (label: string, value: string) => {
    await field(label).fill(value);
    await page.keyboard.press('Tab');
  };
  // By the keyboard alone: from the first reading to the folded round, open it, and into its field.
  await field('C1, °C').focus();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');
  await page.keyboard.type('0,9');
  await page.keyboard.press('Tab');
  await expect.poll(readings, { timeout: 10_000 }).toEqual([0.8, 0.9]);
  expect(await field('C1, no. 2, °C').isVisible()).toBe(true);

  await write('Doubt of the bath, K', '0,02');
  await expect
    .poll(async () => (await stored()).probeChecks[0]?.points[0]?.reference, { timeout: 10_000 })
    .toMatchObject({ u_K: 0.02 });
  expect(await readings()).toEqual([0.8, 0.9]);
  await write('C1, no. 2, °C', '1,0');
  await expect.poll(readings, { timeout: 10_000 }).toEqual([0.8, 1]);
  await points.getByText('Readings no. 3', { exact: true }).click();
  await write('C1, no. 3, °C', '0,7');
  await expect.poll(readings, { timeout: 10_000 }).toEqual([0.8, 1, 0.7]);
  await write('C1, °C', '');
  await expect.poll(readings, { timeout: 10_000 }).toEqual([1, 0.7]);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(readings, { timeout: 10_000 }).toEqual([0.8, 1, 0.7]);

  await page.getByText('Every check point, and what the correction leaves').click();
  // Scatter by hand: √((0.033² + 0.167² + 0.133²) / 2) K.
  await expect
    .poll(() => page.getByRole('table', { name: /^What each probe read in each bath/ }).textContent(), {
      timeout: 10_000,
    })
    .toContain('0.80, 1.00, 0.700.15');
  open.checkErrors();
});

test.each(faces)(
  'entry, probes and empty pages fit at $width px, $colorScheme, without a fault of access',
  async (face) => {
    const { page } = open;
    await page.setViewportSize({ width: face.width, height: face.height });
    await page.emulateMedia({ colorScheme: face.colorScheme });
    for (const place of ['build', 'probes', 'verdict', 'runs', 'compare', 'life', 'dossier']) {
      await page.goto(`${bench.address}#/builds/bench-lamp/${place}`);
      await page.locator('main .answer').first().waitFor();
      expect(await axeViolations(page), place).toEqual([]);
      expect(await sidewaysScroll_px(page), place).toBe(0);
    }
    open.checkErrors();
  },
);
