// @ts-check
/**
 * How fast one thread streams memory in WebAssembly, as our solver could at best: a = b + z d over arrays far larger than the
 * caches of one core, 24 bytes counted an element. Best of seven; prints one JSON line. Run by bench/heat-solve.mjs.
 */
const compiler = 'assemblyscript/asc';
const { default: asc } = await import(compiler);

const source = `
export function triad(a: usize, b: usize, d: usize, z: f64, bytes: usize): void {
  const zs = f64x2.splat(z);
  for (let o: usize = 0; o < bytes; o += 32) {
    v128.store(a + o, f64x2.add(v128.load(b + o), f64x2.mul(zs, v128.load(d + o))));
    v128.store(a + o + 16, f64x2.add(v128.load(b + o + 16), f64x2.mul(zs, v128.load(d + o + 16))));
  }
}`;
const { error, binary } = await asc.compileString(source, {
  runtime: 'stub',
  importMemory: true,
  noExportMemory: true,
  enable: ['simd'],
  optimizeLevel: 3,
  noAssert: true,
});
if (error || !binary) throw new Error('The triad does not compile.');

const bytes = 160_000_000;
const first = 65_536;
const memory = new WebAssembly.Memory({ initial: 1 + Math.ceil((3 * bytes) / 65_536) });
const { instance } = await WebAssembly.instantiate(binary, { env: { memory } });
const triad = /** @type {(a: number, b: number, d: number, z: number, bytes: number) => void} */ (
  instance.exports['triad']
);
new Float64Array(memory.buffer, first, (3 * bytes) / 8).fill(1.5);
let best_ms = Number.POSITIVE_INFINITY;
for (let round = 0; round < 7; round++) {
  const from = performance.now();
  triad(first, first + bytes, first + 2 * bytes, 3 + round, bytes);
  best_ms = Math.min(best_ms, performance.now() - from);
}
const [value = Number.NaN] = new Float64Array(memory.buffer, first + bytes / 2, 1);
if (Math.abs(value - 1.5 * (1 + 9)) > 1e-9) throw new Error(`The triad came to ${value}.`);
console.log(JSON.stringify({ bytes_per_s: (3 * bytes) / (best_ms / 1000) }));
