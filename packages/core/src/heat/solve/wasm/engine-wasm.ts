import type { Engine } from '../engine.js';
import { haveSameShape, type Plan, planLevels } from '../level.js';
import type { HeatNetwork } from '../network.js';
import {
  callHelpers,
  countLent,
  dismissHelpers,
  doesWait,
  dropThreads,
  HelperLostError,
  now_ms,
} from '../threads.js';
import { aloneAt, firstByte, type Layout, layOut, levelBytes } from './layout.js';
import { type Shares, shareRows } from './share-rows.js';
import { type HeatFunctions, startModule } from './start-module.js';

const pageBytes = 65_536;
/** 4 GB: all that addresses of 32 bits reach. */
const pageLimit = 65_536;

/** Kinds of work, as packages/core/assembly/heat/index.ts has them. */
const kinds = { prepare: 0, start: 1, residual: 2, cycle: 3, direct: 4, advance: 5, read: 6 } as const;

/** Cells below which meeting takes longer than sharing saves. */
const fewestCells = 20_000;

/**
 * On a machine with less room than threads each meeting waits until the system lets the other one work again, some milliseconds,
 * and there are dozens in a cycle. So a solve that has slept through this share of its time, and for so long, goes on alone, and so do
 * the next ones, twice as many each time. On a machine with room threads sleep a tenth of a millisecond now and then, which costs
 * less than they save.
 */
const mostLate = { share: 0.5, ms: 4 };
const soloSolves = { first: 8, most: 512 };

/** The fast engine: single precision four cells at a time, by this thread and those that were lent. Same steps as the reference, rounding apart. */
export class WasmEngine implements Engine {
  readonly name = 'wasm';
  private parties: number;
  private readonly memory: WebAssembly.Memory;
  private readonly functions: HeatFunctions;
  private plan: Plan | undefined;
  private shares!: Shares;
  private layout!: Layout;
  private scale = 1;
  private n = 0;
  private isHelped = false;
  private late_ms = 0;
  private began_ms = 0;
  private gaveUp = false;
  private soloLeft = 0;
  private soloNext = soloSolves.first;

  constructor() {
    const threads = countLent();
    const shared = threads > 1 ? startShared((slept_ms) => this.beLate(slept_ms)) : undefined;
    this.parties = shared ? threads : 1;
    this.memory = shared?.memory ?? new WebAssembly.Memory({ initial: 1 });
    this.functions = shared?.functions ?? startModule(this.memory, 'alone');
  }

  get threads(): number {
    return this.isHelped ? this.parties : 1;
  }

  prepare(network: HeatNetwork, scale: number): void {
    const plan = planLevels(network);
    this.shares = shareRows(plan, this.parties);
    if (!this.plan || !haveSameShape(this.plan, plan)) this.makeRoom(plan);
    this.plan = plan;
    this.writeSteps(plan);
    this.n = network.sink_W_per_K.length;
    this.isHelped = this.shares.shared > 0 && this.n >= fewestCells;
    const { x, r, p, q } = this.layout;
    this.plain(x).set(network.east_W_per_K);
    this.plain(r).set(network.north_W_per_K);
    this.plain(p).set(network.up_W_per_K);
    this.plain(q).set(network.sink_W_per_K);
    this.callHelpers();
    this.run(kinds.prepare, scale);
    // Numbers of the network are left where split vectors have their zeros.
    for (const vector of [x, r, p]) this.split(vector).fill(0);
  }

  begin(start: Float64Array | undefined, scale: number): void {
    const { x, p, q } = this.layout;
    this.callHelpers();
    this.useHelpersAgain();
    this.scale = scale;
    this.split(p).fill(0);
    if (start) {
      this.plain(q).set(start);
      this.run(kinds.start);
    } else this.split(x).fill(0);
  }

  findResidual(source: Float64Array): number {
    this.plain(this.layout.q).set(source);
    return this.run(kinds.residual, this.scale);
  }

  precondition(): number {
    return this.run(kinds.cycle);
  }

  direct(beta: number): number {
    return this.run(kinds.direct, beta);
  }

  advance(alpha: number): number {
    return this.run(kinds.advance, alpha, this.scale);
  }

  read(into: Float64Array): void {
    this.run(kinds.read);
    into.set(this.plain(this.layout.q));
  }

  private callHelpers(): void {
    const { functions, memory } = this;
    if (!this.isHelped) dismissHelpers(memory);
    else if (this.parties === countLent()) {
      callHelpers({
        memory,
        enlist: (ticket, threads) => functions.enlist(ticket, threads),
        dismiss: () => functions.enlist(0, 1),
      });
    }
  }

  private beLate(slept_ms: number): void {
    this.late_ms += slept_ms;
    if (this.gaveUp || doesWait()) return;
    if (this.late_ms < mostLate.ms + mostLate.share * (now_ms() - this.began_ms)) return;
    this.gaveUp = true;
    this.functions.pause(true);
    this.soloLeft = this.soloNext;
    this.soloNext = Math.min(2 * this.soloNext, soloSolves.most);
  }

  private useHelpersAgain(): void {
    this.late_ms = 0;
    this.began_ms = now_ms();
    if (!this.isHelped) return;
    if (this.soloLeft > 0 && --this.soloLeft > 0) return;
    if (!this.gaveUp) this.soloNext = soloSolves.first;
    this.gaveUp = false;
    this.functions.pause(false);
  }

  private run(kind: number, a = 0, b = 0): number {
    try {
      return this.functions.run(kind, this.layout.work, a, b);
    } catch (error) {
      if (error instanceof HelperLostError) {
        this.parties = 1;
        this.isHelped = false;
        this.functions.enlist(0, 1);
        dropThreads();
      }
      throw error;
    }
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
    const layout = layOut(plan, this.parties);
    const pages = Math.ceil(layout.bytes / pageBytes);
    if (pages > pageLimit) throw new RangeError(`${layout.bytes} bytes are more than one memory can hold.`);
    const present = this.memory.buffer.byteLength / pageBytes;
    if (pages > present) this.memory.grow(pages - present);
    new Uint8Array(this.memory.buffer, firstByte).fill(0);
    this.layout = layout;
    const { buffer } = this.memory;
    new Uint32Array(buffer, layout.work, layout.workFields.length).set(layout.workFields);
    for (const [at, fields] of layout.fields.entries()) {
      new Uint32Array(buffer, layout.levels + at * levelBytes, fields.length).set(fields);
    }
  }

  private writeSteps(plan: Plan): void {
    const { buffer } = this.memory;
    const { layout, shares } = this;
    for (const [at, own] of shares.bounds.entries()) {
      new Int32Array(buffer, layout.bounds[at]!, own.length).set(own);
      new Int32Array(buffer, layout.levels + at * levelBytes + aloneAt, 1)[0] = at < shares.shared ? 0 : 1;
    }
    for (const [at, step] of plan.steps.entries()) {
      const to = layout.steps[at]!;
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

/** On a memory that threads can share; nothing where the platform has none, or no room for one. */
function startShared(
  onLate: (slept_ms: number) => void,
): { memory: WebAssembly.Memory; functions: HeatFunctions } | undefined {
  try {
    const memory = new WebAssembly.Memory({ initial: 1, maximum: pageLimit, shared: true });
    return { memory, functions: startModule(memory, 'first', onLate) };
  } catch {
    return undefined;
  }
}
