import type { Contest } from '../compare/index.js';
import { BadInputError, found, type Result } from '../measure/index.js';
import { mean } from '../numerics/index.js';
import type { Correction } from '../probes/index.js';
import type { Build, Setup } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import { type Advice, adviseMeasurement } from './calibrate/advise.js';
import { circulatesIn, leavesSoaked } from './calibrate/beyond.js';
import { collectCalibrationData } from './calibrate/calibration-data.js';
import { type Fit, factorsFrom, fitUnknowns, type NoFit } from './calibrate/fit-unknowns.js';
import { type Identification, identifyUnknowns } from './calibrate/learn.js';
import { type LeaveOneOut, leaveOneOut } from './calibrate/leave-one-out.js';
import { type PredictedRise, predictSetup, type SetupPrediction, type Use } from './calibrate/predict.js';
import { Soaks } from './calibrate/soaks.js';
import { compareTimeConstants, type Pace } from './calibrate/time-constants.js';
import { type LeftOutWords, wideningFor } from './calibrate/widen.js';
import { coarsen, type GridWish, soakGrid } from './device/lay-grid.js';
import { applyReading } from './device/read-field.js';
import type { DeviceSolver } from './device/solve-device.js';

/** One measured mean rise beside what the calibrated model shows for it. */
export interface FittedRise {
  readonly setup: string;
  readonly charging: boolean;
  readonly phase: 'idle' | 'load';
  readonly probe: string;
  readonly measured_K: number;
  readonly measured_u_K: number;
  readonly shown_K: number;
}

/** A set-up's rises in one use, predicted by the model; also of measured ones, to be held against their runs. */
export interface PredictedSetup {
  readonly setup: string;
  readonly charging: boolean;
  /** True where runs of it were used: then the runs speak, and the model only fills in places without a probe. */
  readonly measured: boolean;
  readonly rises: readonly PredictedRise[];
  /** Why the prediction leaves what the model was checked on, in words; empty where it does not. */
  readonly beyond: readonly string[];
}

/** The model of one build, calibrated. JSON all through. */
export interface HeatAssessment {
  readonly identification: Identification;
  /** The model's own error as a share of a rise. */
  readonly modelError: number;
  readonly fitted: readonly FittedRise[];
  readonly leaveOneOut: LeaveOneOut | null;
  readonly predictions: readonly PredictedSetup[];
  /** The room in which all these rises stand: that of the runs where they note it, else a usual one. */
  readonly room_C: number;
  /** Set-ups that cannot be modelled, with the reason. */
  readonly unpredicted: readonly { readonly setup: string; readonly reason: string }[];
  /** How slowly set-ups settle, measured and modelled: a check that the fit has not seen. Empty where no runs were given. */
  readonly paces: readonly Pace[];
  /** Best first. */
  readonly advice: readonly Advice[];
  readonly cells: number;
  readonly notes: readonly string[];
}

/** What has to be known of a fit to predict with it elsewhere. It can be sent from one worker to another. */
export interface Calibrated extends Pick<Fit, 'logs' | 'covariance' | 'modelError'> {
  /** What leaving set-ups out has shown of the model's own error; null where there was one set-up. */
  readonly left: LeftOutWords | null;
  /** By probe, what of the grid's error the fit has absorbed, K. */
  readonly absorbed_K: ReadonlyMap<string, number>;
}

export type NoHeat = NoFit;

export interface AssessHeatOptions {
  /** For the comparison of time constants; left out, none is made. */
  readonly runs?: readonly RunResult[];
  /** Ids of the set-ups to predict; left out, all of the build. Where it is given, no measurement is advised: that takes all of them. */
  readonly only?: readonly string[];
  readonly isCancelled?: () => boolean;
  /** From 0 to 1, with what is being done. */
  readonly onProgress?: (share: number, doing: string) => void;
}

/**
 * A build's heat model at work: calibrated once, then asked for any set-up.
 *
 * Holds fields and solvers, so it is kept and not sent; `assess` gives what can be sent.
 */
export class HeatBench {
  readonly soaks: Soaks;
  /** The same on merged cells: an eighth of the work, for all that is done many times over. */
  private readonly rough: Soaks;
  private fit: Fit | null = null;
  private left: LeaveOneOut | null = null;
  private absorbed_K: ReadonlyMap<string, number> = new Map();
  private last: {
    readonly key: string;
    readonly solver: DeviceSolver;
    readonly coarse: DeviceSolver;
    readonly adjoints: Map<string, Float64Array>;
  } | null = null;

  /** @throws BadInputError where the records cannot carry a model, or there is no rise to hold it to */
  constructor(
    build: Build,
    contests: readonly Contest[],
    corrections: readonly Correction[],
    grid: GridWish = soakGrid,
  ) {
    const data = collectCalibrationData(build, contests, corrections);
    this.soaks = new Soaks(build, data, grid);
    this.rough = new Soaks(build, data, coarsen(grid));
  }

  /**
   * Fits the unknowns and leaves each set-up out in turn.
   *
   * Both on merged cells first, where most of the way is gone; the fit is then finished on the full grid. The error of leaving out is that
   * of the merged cells, which is if anything too large.
   */
  calibrate(options: AssessHeatOptions = {}): Result<Fit, NoHeat> {
    const { onProgress } = options;
    const cancelling = options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled };
    const rough = fitUnknowns(this.rough, {
      ...cancelling,
      onProgress: (share) => onProgress?.(0.15 * share, 'fitting the model to the runs'),
    });
    if (!rough.ok) return rough;
    const left = leaveOneOut(this.rough, rough.value, {
      ...cancelling,
      onProgress: (share) => onProgress?.(0.15 + 0.25 * share, 'leaving each set-up out in turn'),
    });
    if (!left.ok) return left;
    const fit = fitUnknowns(this.soaks, {
      ...cancelling,
      start: rough.value.logs,
      onProgress: (share) => onProgress?.(0.4 + 0.3 * share, 'fitting on the full grid'),
    });
    if (!fit.ok) return fit;
    const absorbed = this.findAbsorbed(fit.value, cancelling);
    if (!absorbed.ok) return absorbed;
    this.fit = fit.value;
    this.left = left.value;
    this.absorbed_K = absorbed.value;
    return fit;
  }

  /** What has to be known of the fit to predict with it elsewhere; null before `calibrate`. */
  get calibrated(): Calibrated | null {
    if (this.fit === null) return null;
    const { logs, covariance, modelError } = this.fit;
    const left = this.left === null ? null : { widening: this.left.widening, beyond: this.left.beyond };
    return { logs, covariance, modelError, left, absorbed_K: this.absorbed_K };
  }

  /** How well set-ups left out in turn were predicted; null before `calibrate`, and with one set-up. */
  get leftOut(): LeaveOneOut | null {
    return this.left;
  }

  /** What merging cells does to each probe's reading, mean over the measured set-ups, K. */
  private findAbsorbed(
    fit: Fit,
    cancelling: Pick<AssessHeatOptions, 'isCancelled'>,
  ): Result<Map<string, number>, NoHeat> {
    const { rough, soaks } = this;
    const shifts = new Map<string, number[]>();
    const factors = factorsFrom(soaks, fit.logs);
    for (const [state, soak] of soaks.data.states.entries()) {
      if (soak.phase !== 'load') continue;
      const solver = rough.solverOf(soak.setup);
      const start = rough.fieldOf(soak.setup, soak);
      const solved = solver.solve(rough.stateFor(solver, soak, factors), {
        ...cancelling,
        ...(start && { start }),
      });
      if (!solved.ok) return solved;
      for (const { datum, reading } of rough.readingsOf(state)) {
        const place = fit.used.indexOf(datum);
        const probe = soaks.data.data[datum]?.probe;
        if (place < 0 || probe === undefined) continue;
        const fine_K = (fit.shown_K[place] as number) / (factors.get(`probe:${probe}`) ?? 1);
        const shift_K = fine_K - applyReading(reading, solved.value.rise_K);
        shifts.set(probe, [...(shifts.get(probe) ?? []), shift_K]);
      }
    }
    return found(new Map([...shifts].map(([probe, each]) => [probe, mean(each)])));
  }

  /**
   * A set-up in a use, with intervals.
   *
   * @throws BadInputError where it does not fit or a material is not known
   * @throws RangeError before `calibrate`
   */
  predict(
    setup: Setup,
    use: Use,
    options: Pick<AssessHeatOptions, 'isCancelled'> = {},
  ): Result<SetupPrediction, NoHeat> {
    if (this.fit === null) throw new RangeError('Calibrate the model before it predicts.');
    const { solver, coarse, adjoints } = this.solversFor(setup);
    const start = this.soaks.holds(setup) ? this.soaks.fieldOf(setup.id, use) : undefined;
    return predictSetup(this.soaks, this.fit, solver, use, this.wideningOf(setup), {
      coarse,
      adjoints,
      ...(start && { start }),
      absorbed_K: this.absorbed_K,
      ...(options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled }),
    });
  }

  /**
   * The hottest place of each cell on merged cells: an eighth of the work, for doubts of many set-ups. Values are off by the error of such a
   * grid, which its own doubt does not hold.
   *
   * @throws BadInputError where it does not fit or a material is not known
   * @throws RangeError before `calibrate`
   */
  predictRoughly(
    setup: Setup,
    use: Use,
    options: Pick<AssessHeatOptions, 'isCancelled'> = {},
  ): Result<SetupPrediction, NoHeat> {
    if (this.fit === null) throw new RangeError('Calibrate the model before it predicts.');
    return predictSetup(this.rough, this.fit, this.rough.solverFor(setup), use, this.wideningOf(setup), {
      asks: ({ id, kind }) => kind === 'hottest' && id.startsWith('cell-'),
      ...(options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled }),
    });
  }

  /**
   * What the model's own error is multiplied by for a set-up, by what leaving out has shown and how far the set-up leaves the soaks.
   *
   * @throws RangeError before `calibrate`
   */
  wideningOf(setup: Setup): number {
    if (this.fit === null) throw new RangeError('Calibrate the model before it predicts.');
    return wideningFor(this.fit, this.left, this.beyond(setup).length);
  }

  /** In which layers a set-up leaves what was soaked, in words. */
  private beyond(setup: Setup): string[] {
    const { build, data } = this.soaks;
    return leavesSoaked(build, setup, new Set(data.states.map((state) => state.setup)));
  }

  /** The solvers of the set-up asked for last are kept: a person looks at one from several sides. */
  private solversFor(setup: Setup) {
    const key = JSON.stringify(setup);
    if (this.last?.key !== key) {
      this.last = {
        key,
        solver: this.soaks.solverAt(setup),
        coarse: this.rough.solverAt(setup),
        adjoints: new Map(),
      };
    }
    return this.last;
  }

  /** Everything there is to say, for every set-up of the build. */
  assess(options: AssessHeatOptions = {}): Result<HeatAssessment, NoHeat> {
    const calibrated = this.calibrate(options);
    if (!calibrated.ok) return calibrated;
    const { build, data } = this.soaks;
    const measured = new Set(data.states.map(({ setup }) => setup));
    const uses: Use[] = [false, ...(this.soaks.shares.pack.charge === null ? [] : [true])].map(
      (charging) => ({ charging, load_W: null }),
    );
    const predictions: PredictedSetup[] = [];
    const firm: SetupPrediction[] = [];
    const circulating: string[] = [];
    const unpredicted: { setup: string; reason: string }[] = [];
    const asked = build.setups.filter(({ id }) => options.only?.includes(id) ?? true);
    for (const [place, setup] of asked.entries()) {
      options.onProgress?.(0.7 + (0.3 * place) / asked.length, `predicting ${setup.name}`);
      try {
        for (const use of uses) {
          const predicted = this.predict(setup, use, options);
          if (!predicted.ok) return predicted;
          if (!use.charging) {
            firm.push(predicted.value);
            const { model } = this.solversFor(setup).solver;
            // Said once, of the first: other set-ups differ by little.
            if (circulating.length === 0)
              circulating.push(...circulatesIn(model, predicted.value.field.rise_K, data.ambient_C));
          }
          predictions.push({
            setup: setup.id,
            charging: use.charging,
            measured: data.states.some(
              ({ setup: soaked, charging, phase }) =>
                soaked === setup.id && charging === use.charging && phase === 'load',
            ),
            rises: predicted.value.rises,
            beyond: measured.has(setup.id) ? [] : this.beyond(setup),
          });
        }
      } catch (error) {
        if (!(error instanceof BadInputError)) throw error;
        unpredicted.push({ setup: setup.id, reason: error.message });
      }
    }
    const untried = firm.filter(({ setup }) => !measured.has(setup));
    const advice =
      options.only === undefined
        ? adviseMeasurement(
            this.soaks,
            calibrated.value,
            build.baseline ?? data.states[0]?.setup ?? '',
            untried.length > 0 ? untried : firm,
          )
        : found([]);
    if (!advice.ok) return advice;
    const paces =
      options.runs === undefined
        ? found([])
        : compareTimeConstants(this.rough, calibrated.value, options.runs);
    if (!paces.ok) return paces;
    return found({
      identification: identifyUnknowns(this.soaks, calibrated.value),
      modelError: calibrated.value.modelError,
      fitted: calibrated.value.used.map((datum, index) => {
        const { state, probe, rise_K, u_K } = data.data[datum] as (typeof data.data)[number];
        const { setup, charging, phase } = data.states[state] as (typeof data.states)[number];
        return {
          setup,
          charging,
          phase,
          probe,
          measured_K: rise_K,
          measured_u_K: u_K,
          shown_K: calibrated.value.shown_K[index] as number,
        };
      }),
      leaveOneOut: this.left,
      predictions,
      room_C: data.ambient_C,
      unpredicted,
      paces: paces.value,
      advice: advice.value,
      cells: this.soaks.solverOf(data.states[0]?.setup ?? '').model.partOf.length,
      notes: [...this.soaks.notes, ...circulating],
    });
  }
}
