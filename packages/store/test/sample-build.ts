import { type Build, newBuild, type Run } from '@soakbench/core/records';
import { hashLog } from '../src/index.js';

export function logBytes(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function sampleRun(id: string, file: string, bytes: Uint8Array): Run {
  return {
    id,
    log: { file, sha256: hashLog(bytes) },
    setup: 'bare',
    mounting: 'first',
    session: 'monday',
    recipe: {
      encoding: 'utf-8',
      delimiter: ',',
      decimal: '.',
      headerLines: 1,
      time: { style: 'elapsed', columns: [0], unit: 's' },
      channels: [{ column: 1, header: 'cell', probe: 'cell', unit: 'C' }],
      missing: [],
    },
  };
}

export function sampleBuild(id: string, runs: Run[] = []): Build {
  return {
    ...newBuild(id, `Build ${id}`),
    probes: [{ id: 'cell', name: 'Cell', place: 'cell' }],
    setups: [{ id: 'bare', name: 'Bare', layers: [] }],
    runs,
  };
}

/** Bytes that text handling would harm: every value, line ends of both kinds, and no valid UTF-8. */
export const awkwardBytes = Uint8Array.from([...Array(256).keys(), 13, 10, 10, 13, 0xff, 0xfe, 0]);
