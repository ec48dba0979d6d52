import type { Engine } from '../engine.js';
import { haveSameShape, type Plan, planLevels } from '../level.js';
import type { HeatNetwork } from '../network.js';
import { heatModule } from './heat-module.js';
import { type Layout, layOut, levelBytes } from './layout.js';

/** What packages/core/assembly exports; a number is an address unless named otherwise. */
interface HeatFunctions {
  fillLevels(levels: number, count: number, scale: number): void;
  cycle(levels: number, count: number, at: number, columns: number): void;
  apply(level: number, E: number, N: number, U: number, s: number, x: number, q: number): number;
  subtract(level: number, r: number, q: number, scale: number): number;
  advance(
    level: number,
    x: number,
    p: number,
    q: number,
    alpha: number,
    r: number,
    step: number,
    scale: number,
  ): number;
  dotWithSolution(level: number, r: number): number;
  direct(
    level: number,
    beta: number,
    E: number,
    N: number,
    U: number,
    s: number,
    p: number,
    q: number,
  ): number;
  split(level: number, from: number, to: number): void;
  join(level: number, from: number, to: number): void;
}

const pageBytes = 65_536;
/** 4 GB: all that addresses of 32 bits reach. */
const pageLimit = 65_536;

let compiled: WebAssembly.Module | undefined;

/** Compiled once per thread. Throws where the platform has no WebAssembly or no SIMD. */
function compileModule(): WebAssembly.Module {
  compiled ??= new WebAssembly.Module(Uint8Array.from(atob(heatModule), (letter) => letter.charCodeAt(0)));
  return compiled;
}

/** The fast engine: single precision four cells at a time. Same steps as the reference, rounding apart. */
export class WasmEngine implements Engine {
  readonly name = 'wasm';
  private readonly memory: WebAssembly.Memory;
  private readonly run: HeatFunctions;
  private plan: Plan | undefined;
  private layout!: Layout;
  private scale = 1;
  private n = 0;

  constructor() {
    const module = compileModule();
    this.memory = new WebAssembly.Memory({ initial: 1 });
    this.run = new WebAssembly.Instance(module, { env: { memory: this.memory } })
      .exports as unknown as HeatFunctions;
  }

  prepare(network: HeatNetwork, scale: number): void {
    const plan = planLevels(network);
    if (!this.plan || !haveSameShape(this.plan, plan)) this.makeRoom(plan);
    this.plan = plan;
    this.writeSteps(plan);
    this.n = network.sink_W_per_K.length;
    const { layout, run } = this;
    const { levels, x, r, p, q } = layout;
    const finest = [
      [network.east_W_per_K, x, layout.east],
      [network.north_W_per_K, r, layout.north],
      [network.up_W_per_K, p, layout.up],
      [network.sink_W_per_K, q, layout.sink],
    ] as const;
    for (const [values, plain, split] of finest) {
      this.plain(plain).set(values);
      run.split(levels, plain, split);
    }
    run.fillLevels(levels, plan.grids.length, scale);
    for (const vector of [x, r, p]) this.plain(vector).fill(0);
  }

  begin(start: Float64Array | undefined, scale: number): void {
    const { layout, run } = this;
    const { levels, x, p, q } = layout;
    this.scale = scale;
    this.split(p).fill(0);
    if (start) {
      this.plain(q).set(start);
      run.split(levels, q, x);
    } else this.split(x).fill(0);
  }

  findResidual(source: Float64Array): number {
    const { layout, run } = this;
    const { levels, x, r, q } = layout;
    this.plain(q).set(source);
    run.split(levels, q, r);
    this.apply(x);
    return run.subtract(levels, r, q, this.scale);
  }

  precondition(): number {
    const { layout, run } = this;
    run.cycle(layout.levels, this.plan!.grids.length, 0, layout.columns);
    return run.dotWithSolution(layout.levels, layout.r);
  }

  direct(beta: number): number {
    const { levels, east, north, up, sink, p, q } = this.layout;
    return this.run.direct(levels, beta, east, north, up, sink, p, q);
  }

  advance(alpha: number): number {
    const { levels, x, r, p, q } = this.layout;
    return this.run.advance(levels, x, p, q, alpha, r, alpha, this.scale);
  }

  read(into: Float64Array): void {
    const { levels, x, q } = this.layout;
    this.run.join(levels, x, q);
    into.set(this.plain(q));
  }

  private apply(x: number): number {
    const { levels, east, north, up, sink, q } = this.layout;
    return this.run.apply(levels, east, north, up, sink, x, q);
  }

  /** A vector as plain columns. */
  private plain(at: number): Float64Array {
    return new Float64Array(this.memory.buffer, at, this.n);
  }

  /** A vector of the finest grid as it is split, with its padding. */
  private split(at: number): Float64Array {
    const [, ny, nz, run] = this.layout.fields[0]!;
    return new Float64Array(this.memory.buffer, at, 2 * ny! * (nz! * run! + 4));
  }

  private makeRoom(plan: Plan): void {
    this.plan = undefined;
    const layout = layOut(plan);
    const pages = Math.ceil(layout.bytes / pageBytes);
    if (pages > pageLimit) throw new RangeError(`${layout.bytes} bytes are more than one memory can hold.`);
    const present = this.memory.buffer.byteLength / pageBytes;
    if (pages > present) this.memory.grow(pages - present);
    new Uint8Array(this.memory.buffer).fill(0);
    this.layout = layout;
    const { buffer } = this.memory;
    for (const [at, fields] of layout.fields.entries()) {
      new Uint32Array(buffer, layout.levels + at * levelBytes, fields.length).set(fields);
    }
  }

  private writeSteps(plan: Plan): void {
    const { buffer } = this.memory;
    for (const [at, step] of plan.steps.entries()) {
      const to = this.layout.steps[at]!;
      const whole = [
        [step.x.first, to.firstX],
        [step.y.first, to.firstY],
        [step.x.own, to.ownX],
        [step.y.own, to.ownY],
        [step.besideX, to.besideX],
        [step.besideY, to.besideY],
      ] as const;
      for (const [values, address] of whole) new Int32Array(buffer, address, values.length).set(values);
      new Float64Array(buffer, to.stretchX, step.stretchX.length).set(step.stretchX);
      new Float64Array(buffer, to.stretchY, step.stretchY.length).set(step.stretchY);
    }
  }
}
