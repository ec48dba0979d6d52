/** One page that goes from place to place, so that its worker keeps what it has computed; and the store behind it. */
import type { Build, Run } from '@soakbench/core/records';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { type Bench, startBench } from './harness.js';

export const demo = 'reedling-r2';

/** Long enough for a computation on a busy machine; a step that takes longer is a fault of its own. */
export const patient = { timeout: 30_000, interval: 100 };

export interface Stored {
  readonly build: Build;
  readonly revision: number;
}

export interface Reader {
  readonly bench: Bench;
  readonly page: Page;
  /** Goes to a page of a build and waits until its answer stands. */
  goTo(place: string, build?: string): Promise<void>;
  /** Text of the answer, without what its figures explain when they are touched. Empty while there is none. */
  answer(): Promise<string>;
  /** What the server says of the example build. */
  ask<T>(path: string): Promise<T>;
  stored(): Promise<Stored>;
  storedRun(id: string): Promise<Run>;
  checkErrors(allow?: RegExp): void;
  close(): Promise<void>;
}

/** Starts the real server with the example build, and opens one page on it. */
export async function openReader(): Promise<Reader> {
  const bench = await startBench({ demo: true });
  const { page, checkErrors } = await bench.openPage();
  const ask = async <T>(path: string): Promise<T> => {
    const response = await fetch(`${bench.address}api/builds/${demo}${path}`);
    expect(response.status, path).toBe(200);
    return (await response.json()) as T;
  };
  const stored = () => ask<Stored>('');
  return {
    bench,
    page,
    ask,
    stored,
    checkErrors,
    close: () => bench.close(),
    goTo: async (place, build = demo) => {
      await page.goto(`${bench.address}#/builds/${build}/${place}`);
      await page.locator('main .answer').first().waitFor();
      await page.locator('main .waiting').first().waitFor({ state: 'detached' });
    },
    answer: () =>
      page.evaluate(() => {
        const copy = document.querySelector('main .answer')?.cloneNode(true) as Element | undefined;
        for (const box of copy?.querySelectorAll('[popover]') ?? []) box.remove();
        return copy?.textContent ?? '';
      }),
    storedRun: async (id) => {
      const run = (await stored()).build.runs.find((each) => each.id === id);
      if (!run) throw new Error(`There is no run ${id} in the store.`);
      return run;
    },
  };
}
