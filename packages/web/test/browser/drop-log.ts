/** Logs for browser tests, and the way they get onto a page. */
import { makeSensor } from '@soakbench/core/probes';
import type { Page } from 'playwright-core';

/** Drops a file on the page as a person would: it enters, hovers, and falls. */
export async function dropLog(page: Page, file: string, bytes: Uint8Array | string): Promise<void> {
  const encoded = Buffer.from(bytes).toString('base64');
  const dataTransfer = await page.evaluateHandle(
    ([name, base64]) => {
      const transfer = new DataTransfer();
      const binary = atob(base64 ?? '');
      const content = Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([content], name ?? ''));
      return transfer;
    },
    [file, encoded],
  );
  for (const type of ['dragenter', 'dragover', 'drop'])
    await page.dispatchEvent('body', type, { dataTransfer });
}

/** What the device of a made-up log truly does. */
export const truth = {
  room_C: 24,
  idle_K: 6.5,
  load_K: 21,
  /** One time constant, so that the law itself says where each reading must lie. */
  tau_s: 1440,
  loadFrom_s: 3600,
  loadTo_s: 10_800,
  end_s: 12_600,
  interval_s: 10,
} as const;

/** Rise of the cell above the room: Newton's law of cooling between steps of power. */
function cellRise_K(after_s: number): number {
  const { idle_K, load_K, tau_s, loadFrom_s, loadTo_s } = truth;
  if (after_s < loadFrom_s) return idle_K;
  const hot_K = (at_s: number) => load_K - (load_K - idle_K) * Math.exp(-(at_s - loadFrom_s) / tau_s);
  if (after_s < loadTo_s) return hot_K(after_s);
  return hot_K(loadTo_s) * Math.exp(-(after_s - loadTo_s) / tau_s);
}

const comma = (value: number) => value.toFixed(1).replace('.', ',');
const two = (value: number) => String(value).padStart(2, '0');

/** A log of the truth: semicolons, decimal commas, and a date whose day and month could be taken for each other. */
export function exampleLog(): string {
  const rows = ['Datum;C1 (°C);A (°C)'];
  for (let after_s = 0; after_s <= truth.end_s; after_s += truth.interval_s) {
    const [h, m, s] = [9 + Math.floor(after_s / 3600), Math.floor(after_s / 60) % 60, after_s % 60];
    // A probe of 0.1 K steps needs a little unrest to be read finer than its step; this one repeats every 70 s.
    const unrest = (((after_s / 10) % 7) - 3) * 0.02;
    const stamp = `05.04.2025 ${two(h)}:${two(m)}:${two(s)}`;
    rows.push(
      `${stamp};${comma(truth.room_C + cellRise_K(after_s) + unrest)};${comma(truth.room_C + unrest)}`,
    );
  }
  return `${rows.join('\n')}\n`;
}

/** The same with a reading a line: its name, the voltage of the logger's battery, which is a number too, and the reading. */
export function longFormLog(): string {
  const [, ...rows] = exampleLog().replaceAll(',', '.').trimEnd().split('\n');
  const lines = rows.flatMap((row) => {
    const [stamp = '', ...readings] = row.split(';');
    const iso = stamp.replace(/^(\d+)\.(\d+)\.(\d+)/, '$3-$2-$1');
    return readings.map((reading, at) => [iso, ['C1', 'A'][at], `3.${70 + at}`, reading].join(';'));
  });
  return `${['stamp;what;battery;reading', ...lines].join('\n')}\n`;
}

/** Rows behind the jump of `jumpingLog`. */
export const setBackRows = 9;

/** The same with a clock that was set back near the end, where no preview looks; one row alone would be a damaged stamp. */
export function jumpingLog(): string {
  const rows = exampleLog().trimEnd().split('\n');
  const padding = Array.from({ length: 9000 }, (_, index) => {
    const after_s = truth.end_s + 10 * (index + 1);
    const day = 5 + Math.floor((9 * 3600 + after_s) / 86_400);
    const clock_s = (9 * 3600 + after_s) % 86_400;
    const time = [Math.floor(clock_s / 3600), Math.floor(clock_s / 60) % 60, clock_s % 60].map(two).join(':');
    return `${two(day)}.04.2025 ${time};24,0;24,0`;
  });
  const again = Array.from({ length: setBackRows }, (_, row) => `05.04.2025 09:00:${two(row)};24,0;24,0`);
  return `${[...rows, ...padding, ...again].join('\n')}\n`;
}

/** The same truth as a meter without a cold junction of its own writes it: millivolts of a type K tip, ohms of a Pt100. */
export function signalLog(terminals_C: number): string {
  const [tip, room] = [
    makeSensor({ kind: 'thermocouple', type: 'K' }),
    makeSensor({ kind: 'platinum', element: 'Pt100' }),
  ];
  if (!tip.ok || !room.ok) throw new Error('These are sensors.');
  const rows = ['elapsed s;C1 (mV);A (ohm);terminals (°C)'];
  for (let after_s = 0; after_s <= truth.end_s; after_s += truth.interval_s) {
    const unrest = (((after_s / 10) % 7) - 3) * 0.02;
    const tip_mV = tip.value.signalAt(truth.room_C + cellRise_K(after_s) + unrest, terminals_C);
    const room_ohm = room.value.signalAt(truth.room_C + unrest);
    rows.push(`${after_s};${tip_mV.toFixed(4)};${room_ohm.toFixed(3)};${terminals_C.toFixed(1)}`);
  }
  return `${rows.join('\n')}\n`;
}
