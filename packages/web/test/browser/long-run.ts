/** A run logged for hours at many readings a second, as a log and as a run that is stored with it. */

/** One reading stands out; no chart may lose it. */
export const spike = { row: 700_000, level_C: 71.5 } as const;
export const stepRow = 300_000;
export const interval_s = 0.02;

/** A million rows of elapsed seconds and two probes: a load that comes on, noise, and the one spike. */
export function longLog(rows = 1_000_000): string {
  const lines = ['time (s),C1 (°C),A (°C)'];
  let noise = 1;
  for (let row = 0; row < rows; row++) {
    noise = (Math.imul(noise, 1_664_525) + 1_013_904_223) >>> 0;
    const after_s = row * interval_s;
    const load_s = after_s - stepRow * interval_s;
    const rise_K = load_s < 0 ? 6 : 21 - 15 * Math.exp(-load_s / 1440);
    const level_C = row === spike.row ? spike.level_C : 24 + rise_K + (noise / 2 ** 32 - 0.5) * 0.4;
    lines.push(`${after_s.toFixed(2)},${level_C.toFixed(3)},${(24 + (row % 7) * 0.01).toFixed(2)}`);
  }
  return `${lines.join('\n')}\n`;
}

/** Stores the log and its run in the demo, as the page does. */
export async function storeLongRun(address: string, build: string, log: string): Promise<void> {
  const stored = (await (await fetch(`${address}api/builds/${build}`)).json()) as { revision: number };
  const form = new FormData();
  form.set('revision', String(stored.revision));
  form.set('log', new File([log], 'long.csv'));
  form.set(
    'run',
    JSON.stringify({
      id: 'long',
      name: 'Long run, plate',
      log: { file: 'long.csv' },
      setup: 'plate',
      mounting: 'm9',
      session: 'a long day',
      conditions: { charging: false },
      recipe: {
        encoding: 'utf-8',
        delimiter: ',',
        decimal: '.',
        headerLines: 1,
        time: { style: 'elapsed', columns: [0], unit: 's' },
        channels: [
          { column: 1, header: 'C1 (°C)', probe: 'c1', unit: 'C' },
          { column: 2, header: 'A (°C)', probe: 'a', unit: 'C' },
        ],
        missing: [],
      },
    }),
  );
  const answer = await fetch(`${address}api/builds/${build}/runs`, {
    method: 'POST',
    body: form,
    headers: { origin: address.replace(/\/$/, '') },
  });
  if (answer.status !== 201)
    throw new Error(`The run was not stored: ${answer.status} ${await answer.text()}`);
}
