import { found, type Result } from '../../measure/index.js';
import type { Build, Setup } from '../../records/index.js';
import type { Fit } from '../calibrate/fit-unknowns.js';
import { factorsFrom } from '../calibrate/fit-unknowns.js';
import type { Use } from '../calibrate/predict.js';
import { powerOf } from '../calibrate/soak-power.js';
import type { Soaks } from '../calibrate/soaks.js';
import type { LaidModel } from '../device/device-model.js';
import type { DeviceState } from '../device/device-network.js';
import { type GridWish, soakGrid } from '../device/lay-grid.js';
import { layParts } from '../device/lay-parts.js';
import type { NoDeviceField } from '../device/solve-device.js';
import { carryField } from '../quick/carry-field.js';
import { QuickModels } from '../quick/quick-model.js';
import { type QuickOptions, QuickSolver } from '../quick/quick-solve.js';
import { hashText } from './hash-text.js';
import { type QuickRises, readRises } from './read-rises.js';

/** All that ranking needs of a calibrated build: JSON, so that it can be sent to workers. */
export interface RankingBasis {
  readonly build: Build;
  /** Set-ups whose lines in plan every grid shares. */
  readonly measured: readonly Setup[];
  readonly grid: GridWish;
  /** Factors by the ids of unknowns. */
  readonly factors: Readonly<Record<string, number>>;
  readonly power_W: Readonly<Record<string, number>>;
  readonly ambient_C: number;
}

/** The calibrated device in one use. */
export function rankingBasis(
  soaks: Soaks,
  fit: Pick<Fit, 'logs'>,
  use: Use,
  grid: GridWish = soakGrid,
): RankingBasis {
  const { build, data, shares } = soaks;
  const factors = factorsFrom(soaks, fit.logs);
  const names = new Set(data.states.map(({ setup }) => setup));
  const bare: Setup = { id: 'bare', name: 'bare', layers: [] };
  return {
    build,
    measured: build.setups.filter(({ id }) => names.has(id)),
    grid,
    factors: Object.fromEntries(factors),
    power_W: Object.fromEntries(powerOf({ laid: layParts(build, bare) }, shares, use, factors)),
    ambient_C: data.ambient_C,
  };
}

/** What a basis is, in a word: kept results of another one must not be taken for its own. */
export function nameBasis(basis: RankingBasis): string {
  return hashText(JSON.stringify(basis));
}

/** A set-up's rises in the calibrated device, without intervals. */
export interface RankedRises extends QuickRises {
  readonly setup: string;
}

/**
 * Computes set-ups one after the other, each from its neighbour's field.
 *
 * A chunk of set-ups gives the same numbers whatever was computed before it and wherever: it starts from one field of the bare device,
 * which every ranker makes alike.
 */
export class Ranker {
  private readonly models: QuickModels;
  private readonly solver = new QuickSolver();
  private readonly state: DeviceState;
  /** Outer steps of all set-ups so far: solves with films and gaps brought up to date. */
  steps = 0;
  private reference: { readonly model: LaidModel; readonly rise_K: Float64Array } | undefined;

  /** @throws BadInputError where the build cannot carry a model */
  constructor(basis: RankingBasis) {
    this.models = new QuickModels(basis.build, basis.measured, basis.grid);
    this.state = {
      factors: new Map(Object.entries(basis.factors)),
      power_W: new Map(Object.entries(basis.power_W)),
      ambient_C: basis.ambient_C,
    };
  }

  /**
   * @param onDone asked after each set-up
   * @throws BadInputError where a set-up does not fit or a material is not known
   */
  rank(
    setups: readonly Setup[],
    options: Pick<QuickOptions, 'isCancelled' | 'within_K'> & {
      readonly onDone?: (done: number) => void;
    } = {},
  ): Result<RankedRises[], NoDeviceField> {
    const { onDone, ...solving } = options;
    const started = this.referenceField(solving);
    if (!started.ok) return started;
    let last = started.value;
    const ranked: RankedRises[] = [];
    for (const setup of setups) {
      const model = this.models.modelOf(setup);
      const start = carryField(last.model, last.rise_K, model);
      const solved = this.solver.solve(model, this.state, { ...solving, start });
      if (!solved.ok) return solved;
      this.steps += solved.value.steps;
      last = { model, rise_K: solved.value.rise_K };
      ranked.push({ setup: setup.id, ...readRises(model, last.rise_K) });
      onDone?.(ranked.length);
    }
    return found(ranked);
  }

  private referenceField(
    options: Pick<QuickOptions, 'isCancelled'>,
  ): Result<NonNullable<typeof this.reference>, NoDeviceField> {
    if (this.reference !== undefined) return found(this.reference);
    const model = this.models.modelOf({ id: 'bare', name: 'bare', layers: [] });
    const solved = this.solver.solve(model, this.state, options);
    if (!solved.ok) return solved;
    this.reference = { model, rise_K: solved.value.rise_K.slice() };
    return found(this.reference);
  }
}
