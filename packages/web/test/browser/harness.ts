/** What every browser test stands on: the real server on a fresh store, a real Chromium, and no tolerance for errors. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

const root = fileURLToPath(new URL('../../../../', import.meta.url));
const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const usualPlaces = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/snap/bin/chromium',
];

/** The Chromium to drive. A missing browser fails the tests; they are never skipped in silence. */
export function chromiumPath(): string {
  const named = process.env['SOAKBENCH_CHROMIUM'];
  const found = [...(named ? [named] : []), ...usualPlaces].find((place) => existsSync(place));
  if (!found) throw new Error('No Chromium found. Install one, or set SOAKBENCH_CHROMIUM to its path.');
  return found;
}

export interface Bench {
  /** `http://127.0.0.1:PORT/`, with the final slash. */
  readonly address: string;
  readonly browser: Browser;
  /** The store's file, for tests that look behind the page. */
  readonly store: string;
  /** A page that fails the test by `checkErrors` if anything in it threw or was written to the console as an error. */
  openPage(hash?: string, options?: BrowserContextOptions): Promise<BenchPage>;
  close(): Promise<void>;
}

export interface BenchPage {
  readonly page: Page;
  /** Throws with every page error and console error so far. `allow` names console errors the test provoked. */
  checkErrors(allow?: RegExp): void;
  close(): Promise<void>;
}

/** Starts server and browser. `demo` loads the example build. */
export async function startBench({ demo = false }: { demo?: boolean } = {}): Promise<Bench> {
  const folder = mkdtempSync(path.join(tmpdir(), 'soakbench-test-'));
  const store = path.join(folder, 'soakbench.db');
  const server = spawn(
    process.execPath,
    [
      path.join(root, 'packages/cli/bin/soakbench.mjs'),
      ...['serve', '--port', '0', '--no-open', '--store', store],
      ...(demo ? ['--demo'] : []),
    ],
    { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, CI: '1' } },
  );
  const address = await addressOf(server);
  const browser = await chromium.launch({
    executablePath: chromiumPath(),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  return {
    address,
    browser,
    store,
    openPage: (hash = '#/', options = {}) => openPage(browser, address + hash, options),
    close: async () => {
      await browser.close();
      await stop(server);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function addressOf(server: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let heard = '';
    const listen = (chunk: Buffer) => {
      heard += chunk.toString();
      const address = heard.match(/https?:\/\/127\.0\.0\.1:\d+\//)?.[0];
      if (address) resolve(address);
    };
    server.stdout?.on('data', listen);
    server.stderr?.on('data', listen);
    server.once('exit', (code) =>
      reject(new Error(`The server ended with ${code} before it was ready:\n${heard}`)),
    );
    setTimeout(() => reject(new Error(`The server named no address within 30 s:\n${heard}`)), 30_000).unref();
  });
}

async function stop(server: ChildProcess): Promise<void> {
  if (server.exitCode !== null || server.signalCode !== null) return;
  const ended = new Promise((resolve) => server.once('exit', resolve));
  server.kill('SIGTERM');
  const late = setTimeout(() => server.kill('SIGKILL'), 5000);
  await ended;
  clearTimeout(late);
}

async function openPage(browser: Browser, url: string, options: BrowserContextOptions): Promise<BenchPage> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(`page error: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(`console error: ${message.text()}`);
  });
  await page.goto(url);
  return {
    page,
    checkErrors: (allow) => {
      const left = allow ? errors.filter((text) => !allow.test(text)) : errors;
      if (left.length > 0) throw new Error(left.join('\n'));
    },
    close: () => context.close(),
  };
}

interface AxeViolation {
  readonly id: string;
  readonly help: string;
  readonly nodes: readonly { readonly target: readonly string[]; readonly failureSummary?: string }[];
}

/** Every violation of WCAG 2.2 A and AA, and of axe's best practices, as readable lines; empty when there is none. */
export async function axeViolations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const violations = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: { run(): Promise<{ violations: AxeViolation[] }> } };
    return (await axe.run()).violations;
  });
  return violations.flatMap((violation) =>
    violation.nodes.map(
      (node) =>
        `${violation.id}: ${violation.help}\n  at ${node.target.join(' ')}\n  ${node.failureSummary ?? ''}`,
    ),
  );
}

/** How far the page itself can be scrolled sideways, px; 0 is what a phone needs. */
export async function sidewaysScroll_px(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/** The widths and schemes every page is judged at. */
export const faces = [
  { width: 1440, height: 900, colorScheme: 'light' },
  { width: 1440, height: 900, colorScheme: 'dark' },
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 390, height: 844, colorScheme: 'dark' },
] as const;
