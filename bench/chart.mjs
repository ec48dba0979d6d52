// @ts-check
/**
 * Panning the chart of a run of a million rows in headless Chromium: time from one frame to the next while the chart is dragged
 * to and fro. Prints median and worst. It needs the built packages and page. Run it with: node bench/chart.mjs
 */

import { fileURLToPath } from 'node:url';
import { runnerImport } from 'vite';

/** The long run and the harness are those of the browser tests, which are TypeScript. */
const tests = fileURLToPath(new URL('../packages/web/test/browser/', import.meta.url));
/** @type {typeof import('../packages/web/test/browser/long-run.js')} */
const { longLog, storeLongRun } = (await runnerImport(`${tests}long-run.ts`)).module;
/** @type {typeof import('../packages/web/test/browser/harness.js')} */
const { startBench } = (await runnerImport(`${tests}harness.ts`)).module;

const frames = 240;
const build = 'reedling-r2';
const bench = await startBench({ demo: true });
try {
  await storeLongRun(bench.address, build, longLog());
  const { page } = await bench.openPage(`#/builds/${build}/runs/long`);
  await page.locator('.runchart path[data-probe=c1]').waitFor({ timeout: 120_000 });
  const { steps_ms, moved } = await page.evaluate(async (count) => {
    const closer = [...document.querySelectorAll('button')].find((button) => button.textContent === 'Closer');
    closer?.click();
    await new Promise((resolve) => setTimeout(resolve, 500));
    const field = document.querySelector('.chartfield');
    const box = field?.getBoundingClientRect();
    if (!field || !box) throw new Error('There is no chart.');
    field.setPointerCapture = () => undefined; // a made-up pointer cannot be captured
    const at = { x: box.left + box.width / 2, y: box.top + 100 };
    /** @param {string} type */
    const send = (type) =>
      field.dispatchEvent(
        new PointerEvent(type, { pointerId: 7, button: 0, clientX: at.x, clientY: at.y, bubbles: true }),
      );
    const line = () => document.querySelector('.runchart path[data-probe=c1]')?.getAttribute('d');
    /** @type {number[]} */
    const steps_ms = [];
    let moved = 0;
    send('pointerdown');
    let before = await new Promise(requestAnimationFrame);
    for (let frame = 0; frame < count; frame++) {
      const was = line();
      at.x += frame % 80 < 40 ? -8 : 8;
      send('pointermove');
      const now = await new Promise(requestAnimationFrame);
      steps_ms.push(now - before);
      before = now;
      if (line() !== was) moved++;
    }
    send('pointerup');
    return { steps_ms, moved };
  }, frames);
  const sorted = [...steps_ms].sort((a, b) => a - b);
  console.log(`frames ${frames}, of which the chart had moved in ${moved}`);
  console.log(
    `median ${sorted[frames >> 1]?.toFixed(1)} ms, worst ${sorted.at(-1)?.toFixed(1)} ms between two frames`,
  );
} finally {
  await bench.close();
}
