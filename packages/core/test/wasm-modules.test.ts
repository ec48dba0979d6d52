import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { compileWasmModule, wasmModules } from '../../../scripts/build-wasm-modules.mjs';

test.each(wasmModules)(
  '$name is what its sources compile to',
  async (module) => {
    const held = readFileSync(new URL(`../../../${module.file}`, import.meta.url), 'utf8');
    expect(await compileWasmModule(module)).toBe(held);
  },
  60_000,
);
