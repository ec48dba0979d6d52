import { cycle } from './cycle.kernel.js';
import { type Hierarchy, prepareHierarchy } from './hierarchy.js';
import { advance, applyNetwork, direct, dotWithSingle, subtract } from './krylov.kernel.js';
import { lettersOf, type Network } from './level.js';
import type { HeatNetwork } from './network.js';

/**
 * The heavy part of a solve, done by plain TypeScript or by WebAssembly. Vectors stay inside; what passes are the few
 * numbers conjugate gradients need, so both engines share one solver and can be held against each other.
 */
export interface Engine {
  readonly name: 'typescript' | 'wasm';
  readonly threads: number;
  /** Takes coefficients, in place where the counts of cells allow. `scale` brings them near 1 for single precision. */
  prepare(network: HeatNetwork, scale: number): void;
  /** Starts from a field, or from nothing. `scale` brings the residual near 1 for single precision. */
  begin(start: Float64Array | undefined, scale: number): void;
  /** r = source - A x, from scratch. Returns r.r */
  findResidual(source: Float64Array): number;
  /** z = V(r), one multigrid cycle. Returns r.z */
  precondition(): number;
  /** p = z + beta p, q = A p. Returns p.q */
  direct(beta: number): number;
  /** x += alpha p, r -= alpha q. Returns r.r */
  advance(alpha: number): number;
  /** The field as it stands. */
  read(into: Float64Array): void;
}

/** The reference: readable, and what the other engine is tested against. */
export class TypescriptEngine implements Engine {
  readonly name = 'typescript';
  readonly threads = 1;
  private hierarchy: Hierarchy | undefined;
  private network!: Network;
  private scale = 1;
  private x = new Float64Array(0);
  private r = new Float64Array(0);
  private p = new Float64Array(0);
  private q = new Float64Array(0);

  prepare(network: HeatNetwork, scale: number): void {
    this.hierarchy = prepareHierarchy(network, scale, this.hierarchy);
    this.network = lettersOf(network);
    const n = network.sink_W_per_K.length;
    if (this.x.length === n) return;
    this.x = new Float64Array(n);
    this.r = new Float64Array(n);
    this.p = new Float64Array(n);
    this.q = new Float64Array(n);
  }

  private get finest() {
    return this.hierarchy!.levels[0]!;
  }

  private apply(x: Float64Array): number {
    const { nx, ny, nz } = this.finest;
    return applyNetwork(this.network, nx, ny, nz, x, this.q);
  }

  begin(start: Float64Array | undefined, scale: number): void {
    if (start) this.x.set(start);
    else this.x.fill(0);
    this.p.fill(0);
    this.scale = scale;
  }

  findResidual(source: Float64Array): number {
    this.apply(this.x);
    return subtract(source, this.q, this.r, this.finest.f, this.finest.o, this.scale);
  }

  precondition(): number {
    const { plan, levels } = this.hierarchy!;
    cycle(levels, plan.steps, 0);
    return dotWithSingle(this.r, this.finest.x, this.finest.o);
  }

  direct(beta: number): number {
    direct(this.finest.x, this.finest.o, beta, this.p);
    return this.apply(this.p);
  }

  advance(alpha: number): number {
    const { f, o } = this.finest;
    return advance(alpha, this.p, this.q, this.x, this.r, f, o, this.scale);
  }

  read(into: Float64Array): void {
    into.set(this.x);
  }
}
