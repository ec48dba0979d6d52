import type { Contest } from '../compare/index.js';
import type { HeatAssessment, PredictedSetup } from '../heat/index.js';
import { type Estimate, formatList } from '../measure/index.js';
import type { Build } from '../records/index.js';
import {
  type CellReadings,
  type CellRises,
  type MeasuredRises,
  scaling_u,
  sortByCell,
  type Use,
} from './measured-rises.js';
import { capital, namesOf } from './names.js';

/**
 * Measured rises, and where there are none those of a calibrated heat model: for set-ups that were never soaked, and for cells no probe sits on.
 *
 * A cell with a probe is taken at what that probe would show, because the measured set-ups are; the others stand to it as the model's cells
 * stand to each other in the mean. What was measured is never replaced.
 */
export class PredictedRises implements CellRises {
  private readonly build: Pick<Build, 'probes' | 'setups' | 'runs'>;
  private readonly measured: Pick<MeasuredRises, 'read' | 'of'>;
  private readonly heat: Pick<HeatAssessment, 'predictions'>;
  private readonly main: Pick<Contest, 'baseline' | 'runToRun'>;
  private readonly series: number;
  private readonly parallel: number;
  private readonly predicted = new Set<string>();
  private isIdlePredicted = false;
  private isCellPredicted = false;

  constructor(
    build: Pick<Build, 'probes' | 'setups' | 'runs' | 'newPack'>,
    measured: Pick<MeasuredRises, 'read' | 'of'>,
    heat: Pick<HeatAssessment, 'predictions'>,
    main: Pick<Contest, 'baseline' | 'runToRun'>,
  ) {
    this.build = build;
    this.measured = measured;
    this.heat = heat;
    this.main = main;
    this.series = build.newPack?.series ?? 1;
    this.parallel = build.newPack?.parallel ?? 1;
  }

  of(setup: string, use: Use): readonly Estimate[] | null {
    const read = this.measured.read(setup, use);
    if (read !== null) return this.spread(setup, use, read, false);
    if (use.phase === 'load') {
      const predicted = this.predict(setup, use.charging);
      if (predicted === null) return null;
      this.predicted.add(setup);
      return this.spread(setup, use, predicted, true);
    }
    return use.charging ? null : this.idle(setup);
  }

  /** Whether any rise of a set-up that was asked for is the model's. */
  isPredicted(setup: string): boolean {
    return this.predicted.has(setup);
  }

  tellCells(): readonly string[] {
    const names = namesOf(this.build);
    const setups = [...this.predicted].map(names.setup);
    return [
      ...(setups.length > 0
        ? [
            `Predicted by the heat model and never soaked: ${formatList(setups)}. The doubt of the prediction is in the draws.`,
          ]
        : []),
      ...(this.isIdlePredicted
        ? [
            `Idling is not predicted: its rise is taken in proportion to that under load, as in ${names.setup(this.main.baseline)}.`,
          ]
        : []),
      ...(this.isCellPredicted
        ? ['How warm cells without a probe are beside the others is the heat model’s word.']
        : []),
      ...[...this.predicted].flatMap((setup) =>
        (this.prediction(setup, false)?.beyond ?? []).map(
          (words) => `${capital(names.setup(setup))} leaves what was soaked: ${words}.`,
        ),
      ),
    ];
  }

  /** Rises at the cells' probes, with the doubt of one further mounting, which the model's own does not hold. */
  private predict(setup: string, charging: boolean): CellReadings | null {
    const prediction = this.prediction(setup, charging);
    if (prediction === null) return null;
    const mounting_K = this.main.runToRun.sd_K;
    const found = prediction.rises.flatMap(({ target, rise_K }) => {
      const probe = this.build.probes.find(({ id, place }) => id === target.probe && place === 'cell');
      const doubted = { ...rise_K, u: Math.hypot(rise_K.u, mounting_K) };
      return probe ? [{ cell: this.parallel > 1 ? null : (probe.cell ?? null), rise_K: doubted }] : [];
    });
    return sortByCell(found, this.series);
  }

  /** What a device gives off at idle is not noted, so the model is not asked: the load's rise, in the baseline's proportion. */
  private idle(setup: string): readonly Estimate[] | null {
    const load = this.of(setup, { phase: 'load', charging: false });
    const base = {
      load: this.of(this.main.baseline, { phase: 'load', charging: false }),
      idle: this.measured.of(this.main.baseline, { phase: 'idle', charging: false }),
    };
    if (load === null || base.load === null || base.idle === null) return null;
    this.isIdlePredicted = true;
    return load.map((rise, cell) => {
      const [full, idle] = [base.load?.[cell] ?? base.load?.[0], base.idle?.[cell] ?? base.idle?.[0]];
      const share = full && idle && full.value > 0 ? idle.value / full.value : 0;
      const off_K = scaling_u * share * Math.abs(rise.value - (full?.value ?? 0));
      return {
        value: share * rise.value,
        u: Math.hypot(share * rise.u, idle?.u ?? 0, off_K),
        dof: rise.dof,
      };
    });
  }

  /** One rise for each cell in series: as read, else in the model's proportion to the warmest that was read. */
  private spread(setup: string, use: Use, read: CellReadings, isPredicted: boolean): readonly Estimate[] {
    const { perCell, warmest } = read;
    if (this.series === 1) return [warmest];
    const prediction = this.prediction(setup, use.charging) ?? this.prediction(setup, false);
    const means = Array.from({ length: this.series }, (_, index) =>
      prediction?.rises.find(({ target }) => target.id === `cell-${index + 1}-mean`),
    );
    const warmestMean = Math.max(...means.map((mean) => mean?.rise_K.value ?? Number.NEGATIVE_INFINITY));
    const at = perCell.indexOf(warmest);
    const anchor_K = at < 0 ? warmestMean : (means[at]?.rise_K.value ?? Number.NaN);
    // Side by side, a probe's number does not say which of the cells in series it is.
    const isPlaced = this.parallel === 1;
    return perCell.map((own, cell) => {
      if (own !== null && isPlaced) return own;
      const mean = means[cell];
      if (mean === undefined || !(anchor_K > 0)) return warmest;
      this.isCellPredicted ||= !isPredicted;
      const ratio = mean.rise_K.value / anchor_K;
      const model_K = (mean.parts.model_K / Math.max(1e-9, mean.rise_K.value)) * ratio * warmest.value;
      return { value: ratio * warmest.value, u: Math.hypot(ratio * warmest.u, model_K), dof: warmest.dof };
    });
  }

  private prediction(setup: string, charging: boolean): PredictedSetup | null {
    return this.heat.predictions.find((each) => each.setup === setup && each.charging === charging) ?? null;
  }
}
