import { found, type Result } from '../../measure/index.js';
import type { Build, Setup } from '../../records/index.js';
import { type DeviceModel, makeDeviceModel } from '../device/device-model.js';
import type { DeviceState } from '../device/device-network.js';
import type { GridWish } from '../device/lay-grid.js';
import { applyReading, placeOfProbe, type Reading, readingAt } from '../device/read-field.js';
import { DeviceSolver, type NoDeviceField } from '../device/solve-device.js';
import type { Unknown } from '../device/unknown.js';
import type { CalibrationData } from './calibration-data.js';
import { type Response, respond } from './respond.js';
import { type HeatShares, type HeatUse, powerOf, shareHeat } from './soak-power.js';

/** How well a probe is where it is said to be, and is held as it is said to be: a share of its rise. @assumed common practice, no source */
const probeSpread = 0.03;

/**
 * Everything that was soaked, as models that can be solved for any factors: one device for each set-up, one reading for each datum.
 *
 * Fields are kept from one solve to the next, so that a small change of factors costs little.
 */
export class Soaks {
  readonly build: Build;
  readonly data: CalibrationData;
  readonly shares: HeatShares;
  readonly unknowns: readonly Unknown[];
  readonly notes: readonly string[];
  private readonly measured: readonly Setup[];
  private readonly solvers = new Map<string, DeviceSolver>();
  private readonly grid: GridWish | undefined;
  private readonly kept = new Map<
    number,
    { readonly rise_K: Float64Array; adjoints?: readonly Float64Array[] }
  >();

  /** @throws BadInputError where the build's records cannot carry a model */
  constructor(build: Build, data: CalibrationData, grid?: GridWish) {
    this.build = build;
    this.data = data;
    this.grid = grid;
    this.shares = shareHeat(build, data);
    const setups = data.states.flatMap(({ setup }) => build.setups.find(({ id }) => id === setup) ?? []);
    this.measured = [...new Map(setups.map((setup) => [setup.id, setup])).values()];
    const models = this.measured.map((setup) => this.solverOf(setup.id).model);
    const probes = [...new Set(data.data.map(({ probe }) => probe))].map((id): Unknown => {
      const probe = build.probes.find((each) => each.id === id);
      return {
        id: `probe:${id}`,
        name: `how ${probe?.name ?? id} reads its place`,
        spread: probeSpread,
        source: 'common practice, no source',
        nominal: null,
      };
    });
    const all = [...models.flatMap(({ unknowns }) => unknowns), ...this.shares.unknowns, ...probes];
    this.unknowns = [...new Map(all.map((unknown) => [unknown.id, unknown])).values()];
    this.notes = [
      ...new Set([...models.flatMap(({ laid }) => laid.notes), ...this.shares.notes, ...data.notes]),
    ];
  }

  /** The device with one of the measured set-ups. @throws RangeError where it was not measured */
  solverOf(id: string): DeviceSolver {
    const known = this.solvers.get(id);
    if (known !== undefined) return known;
    const setup = this.measured.find((each) => each.id === id);
    if (setup === undefined) throw new RangeError(`There are no soaks of a set-up ${id}.`);
    const made = this.solverFor(setup);
    this.solvers.set(id, made);
    return made;
  }

  /**
   * The device with any set-up, measured or thought of, on the lines of the measured ones.
   *
   * @throws BadInputError where it does not fit or a material is not known
   */
  solverFor(setup: Setup, grid: GridWish | undefined = this.grid): DeviceSolver {
    return new DeviceSolver(
      makeDeviceModel(this.build, setup, {
        others: this.measured.filter((other) => other !== setup),
        ...(grid === undefined ? {} : { grid }),
      }),
    );
  }

  /** Whether this is one of the measured set-ups, as it was soaked. */
  holds(setup: Setup): boolean {
    return this.measured.includes(setup);
  }

  /** As `solverFor`, without a second one for a set-up that was soaked. */
  solverAt(setup: Setup): DeviceSolver {
    return this.holds(setup) ? this.solverOf(setup.id) : this.solverFor(setup);
  }

  /** The field that a soaked set-up had last in a use: a start near whatever factors make of it now. */
  fieldOf(setup: string, { charging, phase = 'load' }: HeatUse): Float64Array | undefined {
    const state = this.data.states.findIndex(
      (soak) => soak.setup === setup && soak.charging === charging && soak.phase === phase,
    );
    return this.kept.get(state)?.rise_K;
  }

  /** Heat, factors and room of a device in a use. */
  stateFor(
    { model }: { readonly model: Pick<DeviceModel, 'laid'> },
    use: HeatUse,
    factors: ReadonlyMap<string, number>,
  ): DeviceState {
    return { factors, power_W: powerOf(model, this.shares, use, factors), ambient_C: this.data.ambient_C };
  }

  /** Reading of a probe in a device; null where it is off its part. */
  readingOf(
    { model: { grid, laid } }: { readonly model: Pick<DeviceModel, 'grid' | 'laid'> },
    probeId: string,
  ): Reading | null {
    const probe = this.build.probes.find(({ id }) => id === probeId);
    const place = probe === undefined ? null : placeOfProbe(this.build, probe);
    return probe === undefined || place === null ? null : readingAt(grid, laid, probe, place);
  }

  /** Data of one state that the model can read: its place in the list, and its reading. */
  readingsOf(state: number): { readonly datum: number; readonly reading: Reading }[] {
    const solver = this.solverOf(this.data.states[state]?.setup ?? '');
    return this.data.data.flatMap((datum, index) => {
      if (datum.state !== state) return [];
      const reading = this.readingOf(solver, datum.probe);
      return reading === null ? [] : [{ datum: index, reading }];
    });
  }

  /**
   * What the model shows in one state, with its slopes; the probes' own factors are in it.
   *
   * @returns in the order of `readingsOf`
   */
  respond(
    state: number,
    factors: ReadonlyMap<string, number>,
    isCancelled?: () => boolean,
  ): Result<Response, NoDeviceField> {
    const soak = this.data.states[state];
    if (soak === undefined) throw new RangeError(`There is no state ${state}.`);
    const solver = this.solverOf(soak.setup);
    const readings = this.readingsOf(state);
    const before = this.kept.get(state);
    const answered = respond(
      solver,
      readings.map(({ reading }) => reading),
      this.unknowns.map(({ id }) => id),
      factors,
      (moved) => this.stateFor(solver, soak, moved),
      {
        ...(before && { field: before.rise_K }),
        ...(before?.adjoints && { adjoints: before.adjoints }),
        ...(isCancelled === undefined ? {} : { isCancelled }),
      },
    );
    if (!answered.ok) return answered;
    const { field, adjoints } = answered.value;
    this.kept.set(state, { rise_K: field.rise_K, adjoints });
    return found(withProbes(answered.value, this, readings, factors));
  }

  /**
   * What the model shows in one state, without its slopes: for a third of the price.
   *
   * @returns in the order of `readingsOf`
   */
  show(
    state: number,
    factors: ReadonlyMap<string, number>,
    isCancelled?: () => boolean,
  ): Result<number[], NoDeviceField> {
    const soak = this.data.states[state];
    if (soak === undefined) throw new RangeError(`There is no state ${state}.`);
    const solver = this.solverOf(soak.setup);
    const before = this.kept.get(state);
    const solved = solver.solve(this.stateFor(solver, soak, factors), {
      ...(before && { start: before.rise_K }),
      ...(isCancelled === undefined ? {} : { isCancelled }),
    });
    if (!solved.ok) return solved;
    const { rise_K } = solved.value;
    this.kept.set(state, { ...before, rise_K });
    return found(
      this.readingsOf(state).map(
        ({ datum, reading }) =>
          applyReading(reading, rise_K) * (factors.get(probeFactorOf(this.data, datum)) ?? 1),
      ),
    );
  }
}

/** The factor of the probe that a datum was read by. */
function probeFactorOf({ data }: CalibrationData, datum: number): string {
  return `probe:${data[datum]?.probe}`;
}

/** A probe that reads its place a little high reads every field a little high. */
function withProbes(
  response: Response,
  { unknowns, data }: Soaks,
  readings: readonly { readonly datum: number }[],
  factors: ReadonlyMap<string, number>,
): Response {
  const rise_K = response.rise_K.slice();
  const slopes_K = response.slopes_K.map((row, index) => {
    const id = probeFactorOf(data, readings[index]?.datum as number);
    const factor = factors.get(id) ?? 1;
    rise_K[index] = (rise_K[index] as number) * factor;
    return row.map((slope, column) =>
      unknowns[column]?.id === id ? (rise_K[index] as number) : slope * factor,
    );
  });
  return { ...response, rise_K, slopes_K };
}
