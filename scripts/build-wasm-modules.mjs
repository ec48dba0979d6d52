// @ts-check
/**
 * Compiles the rooms of packages/core/assembly to WebAssembly and writes each as text into the sources that run it, so that it
 * runs in Node, page and worker alike without a file to fetch. Run after a change there: node scripts/build-wasm-modules.mjs
 * A test compiles again and compares.
 */
import { writeFileSync } from 'node:fs';
import { argv } from 'node:process';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));

/** The heat solver's two are for a memory of one thread's own, and for one that threads share. */
export const wasmModules = [
  { from: 'heat', file: 'packages/core/src/heat/solve/wasm/heat-module.ts', name: 'heatModule', options: [] },
  {
    from: 'heat',
    file: 'packages/core/src/heat/solve/wasm/heat-module-shared.ts',
    name: 'sharedHeatModule',
    options: ['--enable=threads', '--sharedMemory', '--maximumMemory=65536'],
  },
  { from: 'log', file: 'packages/core/src/runs/wasm/log-module.ts', name: 'logModule', options: [] },
];

/** Text of one of their files, from the assembly sources as they are. @param {(typeof wasmModules)[number]} module */
export async function compileWasmModule({ from, name, options }) {
  // Named apart from the import: the compiler's types declare arrays of their own, which would change those of every file checked with them.
  const compiler = 'assemblyscript/asc';
  const { default: asc } = await import(compiler);
  const messages = asc.createMemoryStream();
  /** @type {Uint8Array | undefined} */
  let binary;
  const { error } = await asc.main(
    [
      `packages/core/assembly/${from}/index.ts`,
      '--baseDir',
      root,
      '--outFile=module.wasm',
      '--runtime=stub',
      '--importMemory',
      '--noExportMemory',
      '--enable=simd',
      '-O3',
      '--noAssert',
      '--disable=mutable-globals',
      ...options,
    ],
    {
      stdout: messages,
      stderr: messages,
      readFile: undefined,
      writeFile: (/** @type {string} */ _name, /** @type {unknown} */ content) => {
        if (content instanceof Uint8Array) binary = content;
      },
      listFiles: undefined,
    },
  );
  if (error || !binary)
    throw new Error(`packages/core/assembly/${from} does not compile:\n${messages.toString()}`);
  const text = Buffer.from(binary).toString('base64');
  const lines = text.match(/.{1,100}/g)?.map((line) => `  '${line}',`) ?? [];
  return [
    `// Written by scripts/build-wasm-modules.mjs from packages/core/assembly/${from}; a test compiles again and compares.`,
    '',
    '/** The compiled module in base64. */',
    `export const ${name} = [`,
    ...lines,
    "].join('');",
    '',
  ].join('\n');
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  for (const module of wasmModules) {
    const text = await compileWasmModule(module);
    writeFileSync(root + module.file, text);
    console.log(`${module.file}: ${text.length} characters`);
  }
}
