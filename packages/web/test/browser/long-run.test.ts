import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeViolations, type Bench, type BenchPage, startBench } from './harness.js';
import { interval_s, longLog, spike, storeLongRun } from './long-run.js';
import { demo, patient } from './open-reader.js';

let bench: Bench;
let opened: BenchPage;
beforeAll(async () => {
  bench = await startBench({ demo: true });
  await storeLongRun(bench.address, demo, longLog());
  opened = await bench.openPage(`#/builds/${demo}/runs/long`);
}, 120_000);
afterAll(() => bench.close());

const button = (words: string) => opened.page.getByRole('button', { name: words, exact: true });
const shown = () => opened.page.locator('.chartwindow [role=status]').textContent();
/** The line of the probe as it is drawn: places of its points, px. */
const points = async () => {
  const d = (await opened.page.locator('.runchart path[data-probe=c1]').getAttribute('d')) ?? '';
  return [...d.matchAll(/[ML]([\d.-]+) ([\d.-]+)/g)].map(([, x, y]) => ({ x: Number(x), y: Number(y) }));
};
const chartWidth = async () => (await opened.page.locator('.runchart svg').boundingBox())?.width ?? 0;
const seconds = (words: string) => words.split(':').reduce((sum, part) => 60 * sum + Number(part), 0);

test('a run of a million rows is drawn, zoomed and moved, and its one spike is never lost', async () => {
  await opened.page.locator('.runchart path[data-probe=c1]').waitFor({ timeout: 90_000 });
  const width = await chartWidth();
  const whole = await points();
  expect(whole.length).toBeLessThanOrEqual(2 * width + 4);
  const top = Math.min(...whole.map(({ y }) => y));
  const peak = whole.find(({ y }) => y === top);
  // The spike stands where its time is, to the pixel: 700 000 of 1 000 000 rows along the field.
  const field = { left: Math.min(...whole.map(({ x }) => x)), right: Math.max(...whole.map(({ x }) => x)) };
  expect(Math.abs((peak?.x ?? 0) - (field.left + 0.7 * (field.right - field.left)))).toBeLessThanOrEqual(1.5);
  expect(await axeViolations(opened.page)).toEqual([]);

  // By wheel about the spike, which then keeps its place: to a few hundred seconds, for a pixel of the whole run is 15 s.
  const box = await opened.page.locator('.runchart svg').boundingBox();
  if (!box) throw new Error('The chart has no place on the page.');
  await opened.page.mouse.move(box.x + (peak?.x ?? 0), box.y + 150);
  await opened.page.keyboard.down('Control');
  for (let turn = 0; turn < 6; turn++) await opened.page.mouse.wheel(0, -200);
  await opened.page.keyboard.up('Control');
  await expect.poll(shown, patient).toMatch(/ is shown\.$/);
  const [from = '', to = ''] = ((await shown()) ?? '').replace(' is shown.', '').split(' to ');
  const at_s = spike.row * interval_s;
  expect(seconds(from)).toBeLessThanOrEqual(at_s);
  expect(seconds(to)).toBeGreaterThanOrEqual(at_s);
  // exp(-0.003 * 200) each turn, six times: 0.027 of the run is left.
  expect(seconds(to) - seconds(from)).toBeLessThan(0.028 * 20_000 + 2);
  const near = await points();
  expect(near.length).toBeGreaterThan(100);
  expect(near.length).toBeLessThanOrEqual(2 * width + 8);
  const crest = near.reduce((best, point) => (point.y < best.y ? point : best));
  const rest = near.filter(({ y }) => y > crest.y + 50);
  expect(rest.length).toBe(near.length - 1);
  expect(await axeViolations(opened.page)).toEqual([]);

  // By drag to the left: later rows come in, the spike goes out on the left with them.
  await opened.page.mouse.move(box.x + 0.8 * width, box.y + 150);
  await opened.page.mouse.down();
  await opened.page.mouse.move(box.x + 0.3 * width, box.y + 150, { steps: 8 });
  await opened.page.mouse.up();
  await expect
    .poll(async () => seconds((await shown())?.split(' to ')[0] ?? ''), patient)
    .toBeGreaterThan(seconds(from) + 100);

  // By key: the buttons say what they do, and the last one gives the run back as it was.
  await button('Earlier').focus();
  await opened.page.keyboard.press('Enter');
  await opened.page.keyboard.press('Enter');
  await button('Wider').focus();
  await opened.page.keyboard.press('Enter');
  await button('Whole run').focus();
  await opened.page.keyboard.press('Enter');
  await expect.poll(shown, patient).toBe('');
  expect(await points()).toEqual(whole);
  opened.checkErrors();
}, 180_000);
