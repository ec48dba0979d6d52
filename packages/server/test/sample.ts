import { mkdtempSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Build, newBuild, type Recipe } from '@soakbench/core/records';

export function makeFolder(): { path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'soakbench-server-'));
  return { path, remove: () => rmSync(path, { recursive: true }) };
}

export const recipe: Recipe = {
  encoding: 'utf-8',
  delimiter: ',',
  decimal: '.',
  headerLines: 1,
  time: { style: 'elapsed', columns: [0], unit: 's' },
  channels: [
    { column: 1, header: 'cell', probe: 'cell', unit: 'C' },
    { column: 2, header: 'room', probe: 'room', unit: 'C' },
  ],
  missing: [],
};

/** A run as a page sends it: the server fills in the hash. */
export function sentRun(id: string, file: string): Record<string, unknown> {
  return { id, log: { file }, setup: 'bare', mounting: 'first', session: 'monday', recipe };
}

export function sampleBuild(id: string): Build {
  return {
    ...newBuild(id, 'Bench test'),
    probes: [
      { id: 'cell', name: 'Cell', place: 'cell' },
      { id: 'room', name: 'Room', place: 'ambient' },
    ],
    setups: [{ id: 'bare', name: 'Bare', layers: [] }],
  };
}

/** A log of `rows` rows, one in ten seconds: the cell warms towards 40 °C in a room at 22 °C. */
export function sampleLog(rows: number, title = 'after_s,cell,room'): string {
  const lines = [title];
  for (let row = 0; row < rows; row += 1) {
    lines.push(`${10 * row},${(22 + 18 * (1 - Math.exp(-row / 120))).toFixed(2)},22.0`);
  }
  return `${lines.join('\n')}\n`;
}

export interface RawAnswer {
  readonly status: number;
  readonly headers: Record<string, string | string[] | undefined>;
  readonly text: string;
}

/** A request exactly as given: path not tidied, any header allowed. */
export function ask(
  url: string,
  path: string,
  options: { method?: string; headers?: Record<string, string>; body?: string | Uint8Array } = {},
): Promise<RawAnswer> {
  const { hostname, port } = new URL(url);
  const headers: Record<string, string> = { ...options.headers };
  if (options.body !== undefined && !headers['transfer-encoding']) {
    headers['content-length'] = `${Buffer.byteLength(options.body)}`;
  }
  return new Promise((resolve, reject) => {
    const sent = request(
      { hostname, port, path, method: options.method ?? 'GET', headers, agent: false },
      (answer) => {
        const chunks: Buffer[] = [];
        answer.on('data', (chunk: Buffer) => chunks.push(chunk));
        answer.on('error', reject);
        answer.on('end', () =>
          resolve({
            status: answer.statusCode ?? 0,
            headers: answer.headers,
            text: Buffer.concat(chunks).toString(),
          }),
        );
      },
    );
    sent.on('error', reject);
    sent.end(options.body);
  });
}
