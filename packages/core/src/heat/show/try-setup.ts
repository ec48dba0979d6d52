import type { Contest } from '../../compare/index.js';
import { found, type Result } from '../../measure/index.js';
import type { Correction } from '../../probes/index.js';
import type { Build, Device, Setup } from '../../records/index.js';
import type { Calibrated } from '../assess-heat.js';
import { leavesSoaked } from '../calibrate/beyond.js';
import { type CalibrationData, collectCalibrationData } from '../calibrate/calibration-data.js';
import { factorsFrom } from '../calibrate/fit-unknowns.js';
import { type PredictedRise, predictSetup, type Use } from '../calibrate/predict.js';
import { Soaks } from '../calibrate/soaks.js';
import { wideningFor } from '../calibrate/widen.js';
import { checkGeometry } from '../device/check-geometry.js';
import { type LaidModel, surroundingsOf } from '../device/device-model.js';
import { findPlaces, type PlaceRise } from '../device/find-places.js';
import { coarsen, type GridWish, soakGrid } from '../device/lay-grid.js';
import type { PartRole, Span } from '../device/part.js';
import { applyReading, type ProbePlace, placeOfProbe } from '../device/read-field.js';
import type { NoDeviceField } from '../device/solve-device.js';
import { carryField } from '../quick/carry-field.js';
import { QuickModels } from '../quick/quick-model.js';
import { QuickSolver } from '../quick/quick-solve.js';
import { depthOfPlane, type FieldSlice, type PlaneName, slicePlan, sliceSection } from './slice-field.js';

/** A set-up somebody thinks of, in the room and on the table they think of. It need not be among the build's. */
export interface SetupWish {
  readonly setup: Setup;
  /** How the device lies or stands; absent, as the build says. */
  readonly surroundings?: Device['surroundings'];
  /** °C; null takes the room of the runs. */
  readonly ambient_C: number | null;
  readonly use: Use;
  /** What is seen from above; where the set-up has no such plane, the face of the pack. */
  readonly plane: PlaneName;
  readonly grid?: GridWish;
  /** How far a cell may still be off, K: a hand that moves needs less than one that rests. 2 mK unless said. */
  readonly within_K?: number;
}

/** A box of the device, for its outline on a drawing. */
export interface ShownPart {
  readonly role: PartRole;
  readonly name: string;
  readonly x: Span;
  readonly y: Span;
  readonly z: Span;
  readonly spreads: boolean;
}

/** What a page shows of a set-up: two planes of the field and the places that count. */
export interface ShownSetup {
  readonly ambient_C: number;
  readonly plane: PlaneName;
  readonly planes: readonly PlaneName[];
  readonly plan: FieldSlice;
  readonly section: FieldSlice;
  readonly parts: readonly ShownPart[];
  readonly places: readonly PlaceRise[];
  readonly depths: { readonly pack: number; readonly boardBack: number };
  /** What the bay leaves for swelling, mm. */
  readonly room_mm: number;
  readonly cells: number;
  /** Newton steps it took. */
  readonly steps: number;
}

const allPlanes: readonly PlaneName[] = ['pack', 'shield', 'board', 'front-shell', 'back-shell'];
const spreads_W_per_mK = 20;
const usualWithin_K = 2e-3;

/** What was shown last: the next one starts from it. */
interface Kept {
  readonly key: string;
  readonly model: LaidModel;
  /** `null` until it was solved; of another set-up and carried over to these cells until then. */
  field: Float64Array | null;
}

/**
 * A calibrated model for trying things: it answers at once, without intervals, and with intervals when it is asked for them.
 *
 * It keeps the last field as a start for the next, so a small change costs little.
 */
export class TryBench {
  private readonly build: Build;
  private readonly calibrated: Calibrated;
  private readonly data: CalibrationData;
  private readonly soaks: Soaks;
  private readonly factors: ReadonlyMap<string, number>;
  private readonly grid: GridWish;
  private readonly measured: readonly Setup[];
  private readonly models = new Map<string, QuickModels>();
  private readonly solver = new QuickSolver();
  private last: Kept | null = null;
  private asked: { readonly key: string; readonly soaks: Soaks } | null = null;

  /** @throws BadInputError where the records cannot carry a model */
  constructor(
    build: Build,
    contests: readonly Contest[],
    corrections: readonly Correction[],
    calibrated: Calibrated,
    grid: GridWish = soakGrid,
  ) {
    this.build = build;
    this.calibrated = calibrated;
    this.grid = grid;
    this.data = collectCalibrationData(build, contests, corrections);
    this.soaks = new Soaks(build, this.data, grid);
    this.factors = factorsFrom(this.soaks, calibrated.logs);
    this.measured = build.setups.filter(({ id }) => this.data.states.some(({ setup }) => setup === id));
  }

  /**
   * Field and places of a set-up, without doubts.
   *
   * @throws BadInputError naming the record where the set-up does not fit or a material is not known
   */
  show(wish: SetupWish): Result<ShownSetup, NoDeviceField> {
    const kept = this.prepare(wish);
    const { model } = kept;
    const ambient_C = wish.ambient_C ?? this.data.ambient_C;
    const solved = this.solver.solve(
      model,
      { ...this.soaks.stateFor(kept, wish.use, this.factors), ambient_C },
      {
        within_K: wish.within_K ?? usualWithin_K,
        ...(kept.field === null ? {} : { start: kept.field }),
      },
    );
    if (!solved.ok) return solved;
    const { rise_K, steps } = solved.value;
    kept.field = rise_K;
    const { grid, laid } = model;
    const places = [...this.readProbes(kept, rise_K), ...findPlaces(model, rise_K, this.build.zones)];
    const planes = allPlanes.filter((name) => depthOfPlane(laid, name) !== null);
    const plane = planes.includes(wish.plane) ? wish.plane : 'pack';
    return found({
      ambient_C,
      plane,
      planes,
      plan: slicePlan(grid, rise_K, depthOfPlane(laid, plane) as number),
      section: sliceSection(grid, rise_K, this.cutLine(places)),
      parts: laid.parts.map(({ role, name, x, y, z, kInPlane_W_per_mK }) => ({
        role,
        name,
        x,
        y,
        z,
        spreads: role === 'layer' && kInPlane_W_per_mK >= spreads_W_per_mK,
      })),
      places,
      depths: { pack: laid.depths.pack, boardBack: laid.depths.boardBack },
      room_mm: checkGeometry(this.build, wish.setup).room_mm,
      cells: model.partOf.length,
      steps,
    });
  }

  /**
   * The same places with their doubts, on the grid of the calibration. Takes a second where `show` takes a blink.
   *
   * Where faces or room are not those of the runs, the model carries what it learned over: nothing measured stands behind that step, and the
   * doubt of the table's own figures for cloth and hand is not in it.
   */
  predict({
    setup,
    surroundings,
    ambient_C,
    use,
  }: SetupWish): Result<readonly PredictedRise[], NoDeviceField> {
    const key = JSON.stringify([surroundings ?? null, ambient_C]);
    if (this.asked?.key !== key)
      this.asked = {
        key,
        soaks: new Soaks(
          withSurroundings(this.build, surroundings),
          {
            ...this.data,
            ambient_C: ambient_C ?? this.data.ambient_C,
          },
          this.grid,
        ),
      };
    const { soaks } = this.asked;
    const { left, absorbed_K, ...fit } = this.calibrated;
    const measured = new Set(this.measured.map(({ id }) => id));
    const widening = wideningFor(fit, left, leavesSoaked(this.build, setup, measured).length);
    const predicted = predictSetup(soaks, fit, soaks.solverFor(setup), use, widening, {
      coarse: soaks.solverFor(setup, coarsen(this.grid)),
      absorbed_K,
    });
    return predicted.ok ? found(predicted.value.rises) : predicted;
  }

  private prepare({ setup, surroundings, grid = this.grid }: SetupWish): Kept {
    const key = JSON.stringify([setup.layers, surroundings ?? null, grid]);
    if (this.last?.key === key) return this.last;
    const laid = this.modelsOn(grid).modelOf(setup);
    const model: LaidModel =
      surroundings === undefined ? laid : { ...laid, surroundings: surroundingsOf(surroundings) };
    const { last } = this;
    const field = last?.field == null ? null : carryField(last.model, last.field, model);
    this.last = { key, model, field };
    return this.last;
  }

  /** The lines of the measured set-ups are in every grid, so that its error is much the same in all of them. */
  private modelsOn(grid: GridWish): QuickModels {
    const key = JSON.stringify(grid);
    const known = this.models.get(key);
    if (known !== undefined) return known;
    const made = new QuickModels(this.build, this.measured, grid);
    this.models.set(key, made);
    return made;
  }

  private readProbes(kept: Kept, rise_K: Float64Array): PlaceRise[] {
    return this.build.probes.flatMap((probe): PlaceRise[] => {
      const reading = this.soaks.readingOf(kept, probe.id);
      if (reading === null) return [];
      const at: ProbePlace | null = placeOfProbe(this.build, probe);
      const factor = this.factors.get(`probe:${probe.id}`) ?? 1;
      return [
        {
          id: `probe:${probe.id}`,
          name: probe.name,
          kind: 'probe',
          probe: probe.id,
          rise_K: factor * applyReading(reading, rise_K),
          at,
        },
      ];
    });
  }

  /** Where across the device the section is cut: through the zone whose probe reads highest, else the one the model has hottest. */
  private cutLine(places: readonly PlaceRise[]): number {
    const zones = this.build.zones.map((zone) => {
      const probes = this.build.probes.filter((probe) => probe.place === 'zone' && probe.zone === zone.id);
      const read = places.filter(({ probe }) => probes.some(({ id }) => id === probe));
      const own = places.find(({ id }) => id === `zone:${zone.id}`);
      const middle_mm = zone.y_mm + zone.width_mm / 2;
      return {
        middle_mm,
        isRead: read.length > 0,
        rise_K: Math.max(...[...read, ...(own ? [own] : [])].map(riseOf)),
      };
    });
    const rank = zones.some(({ isRead }) => isRead) ? zones.filter(({ isRead }) => isRead) : zones;
    const hottest = rank.sort((one, other) => other.rise_K - one.rise_K)[0];
    return hottest?.middle_mm ?? (this.build.device?.width_mm ?? 0) / 2;
  }
}

function riseOf({ rise_K }: PlaceRise): number {
  return rise_K;
}

function withSurroundings(build: Build, surroundings: SetupWish['surroundings']): Build {
  return build.device === undefined || surroundings === undefined
    ? build
    : { ...build, device: { ...build.device, surroundings } };
}
