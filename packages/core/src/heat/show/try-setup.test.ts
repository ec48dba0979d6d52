import { describe, expect, test } from 'vitest';
import { makeBuild } from '../../../../../examples/generator/scenario.mjs';
import { temperatureAnchors } from '../../drawing/index.js';
import { BadInputError } from '../../measure/index.js';
import { checkBuild, type Setup } from '../../records/index.js';
import { assessBuild, everyContest } from '../../verdict/index.js';
import { HeatBench } from '../assess-heat.js';
import { calibrateHeat, calibrationKey } from './calibrate-heat.js';
import { presentFieldPlan, presentFieldSection } from './present-field.js';
import { type SetupWish, TryBench } from './try-setup.js';

const made = makeBuild() as { build: unknown; logs: Map<string, Uint8Array> };
const build = checkBuild(JSON.parse(JSON.stringify(made.build)));
const assessment = assessBuild(build, (file) => made.logs.get(file));
const contests = everyContest(assessment.compare);
const { corrections } = assessment.probes;
/** So coarse that a calibration takes a second or two: what is tested here is how the pieces meet, not how true they are. */
const grid = { cell_mm: 12, zoneCell_mm: 8, depth_mm: 5 };

const setupOf = (id: string) => build.setups.find((each) => each.id === id) as Setup;
const wishFor = (setup: Setup, more: Partial<SetupWish> = {}): SetupWish => ({
  setup,
  ambient_C: 23,
  use: { charging: false, load_W: null },
  plane: 'pack',
  within_K: 1e-3,
  ...more,
});

describe('trying set-ups on a calibrated model', { timeout: 120_000 }, () => {
  const result = calibrateHeat(build, contests, corrections, { grid });
  if (!result.ok) throw new Error(JSON.stringify(result.reason));
  const { assessment: heat, calibrated } = result.value;
  const bench = new TryBench(build, contests, corrections, structuredClone(calibrated), grid);
  const show = (wish: SetupWish) => {
    const shown = bench.show(wish);
    if (!shown.ok) throw new Error(shown.reason.kind);
    return shown.value;
  };

  test('the fit that was kept is the one the assessment was made with', () => {
    for (const { unknown, factor } of heat.identification.learned) {
      const index = heat.identification.learned.findIndex((each) => each.unknown.id === unknown.id);
      expect(Math.exp(calibrated.logs[index] as number)).toBeCloseTo(factor, 12);
    }
    expect(calibrated.left?.widening).toBe(heat.leaveOneOut?.widening);
  });

  test('shows at once what the assessment predicts, place by place, for the room of the runs', () => {
    const room = new HeatBench(build, contests, corrections, grid).soaks.data.ambient_C;
    expect(show(wishFor(setupOf('plate'), { ambient_C: null })).ambient_C).toBe(room);
    for (const { setup, charging, rises } of heat.predictions) {
      const use = { charging, load_W: null };
      const { places } = show(wishFor(setupOf(setup), { ambient_C: room, use }));
      expect(places.map(({ id }) => id).sort()).toEqual(rises.map(({ target }) => target.id).sort());
      for (const { target, rise_K } of rises) {
        const place = places.find(({ id }) => id === target.id);
        // Both settle to some thousandths of a kelvin.
        expect(Math.abs((place?.rise_K ?? Number.NaN) - rise_K.value), target.id).toBeLessThan(0.02);
      }
    }
  });

  test('with doubts, gives for a set-up what the assessment gives', () => {
    const room = new HeatBench(build, contests, corrections, grid).soaks.data.ambient_C;
    const rises = bench.predict(wishFor(setupOf('plate'), { ambient_C: room }));
    const known = heat.predictions.find(({ setup, charging }) => setup === 'plate' && !charging);
    if (!rises.ok || known === undefined) throw new Error('The plate is not predicted.');
    for (const { target, rise_K } of known.rises) {
      const mine = rises.value.find((each) => each.target.id === target.id);
      expect(Math.abs((mine?.rise_K.u ?? 0) - rise_K.u), target.id).toBeLessThan(0.02 * rise_K.u);
    }
  });

  test('follows a thickness whose cells are other ones, and comes back to what it was', () => {
    const before = show(wishFor(setupOf('plate')));
    const thick = structuredClone(setupOf('plate'));
    for (const layer of thick.layers) if (layer.material === 'aluminium') layer.thickness_mm = 0.3;
    const after = show(wishFor(thick));
    const cell = (shown: typeof before) => shown.places.find(({ id }) => id === 'cell-1')?.rise_K ?? 0;
    expect(after.room_mm - before.room_mm).toBeCloseTo(0.2, 9);
    // A thinner plate spreads less: the hottest place of the cell beneath the processor is warmer.
    expect(cell(after)).toBeGreaterThan(cell(before));
    expect(Math.abs(cell(show(wishFor(setupOf('plate')))) - cell(before))).toBeLessThan(0.01);
  });

  test('a face on cloth is warmer than one in air, a warmer room loses a little better', () => {
    const rise = (wish: SetupWish) => show(wish).places.find(({ id }) => id === 'cell-1-mean')?.rise_K ?? 0;
    const air = rise(wishFor(setupOf('plate')));
    expect(
      rise(wishFor(setupOf('plate'), { surroundings: { posture: 'flat', front: 'air', back: 'cloth' } })),
    ).toBeGreaterThan(air);
    expect(rise(wishFor(setupOf('plate'), { ambient_C: 40 }))).toBeLessThan(air);
  });

  test('twice the load is nearly twice the rise, a little less because films grow with it', () => {
    const rise = (load_W: number) =>
      show(wishFor(setupOf('plate'), { use: { charging: false, load_W } })).places.find(
        ({ id }) => id === 'cell-1',
      )?.rise_K ?? 0;
    const ratio = rise(8) / rise(4);
    expect(ratio).toBeLessThan(2);
    // Natural convection goes with the fourth root of the rise, radiation hardly: between 2^(4/5) and 2.
    expect(ratio).toBeGreaterThan(2 ** 0.8);
  });

  test('says which record is wrong where a set-up does not fit or is of nothing known', () => {
    const thick = structuredClone(setupOf('plate'));
    (thick.layers[1] as { thickness_mm: number }).thickness_mm = 5;
    expect(() => bench.show(wishFor(thick))).toThrow(BadInputError);
    expect(() => bench.show(wishFor(thick))).toThrow(/too thick for the bay/);
    const other = structuredClone(setupOf('plate'));
    (other.layers[1] as { material: string }).material = 'other';
    expect(() => bench.show(wishFor(other))).toThrow(/not stated/);
    expect(show(wishFor(setupOf('plate'))).places.length).toBeGreaterThan(5);
  });

  test('draws both planes with what lies there, and marks the probes that sit there', () => {
    const shown = show(wishFor(setupOf('strips')));
    const anchors = temperatureAnchors(build);
    const plan = presentFieldPlan(build, shown, anchors);
    expect(plan.marks.map(({ tag }) => tag)).toEqual(['C1', 'C2']);
    expect(plan.outlines.filter(({ look }) => look === 'strip')).toHaveLength(5);
    const processor = build.zones.find(({ id }) => id === 'processor');
    expect(plan.cut_mm).toBe((processor?.y_mm ?? 0) + (processor?.width_mm ?? 0) / 2);
    const section = presentFieldSection(build, shown, anchors);
    expect(section.marks.map(({ tag }) => tag)).toEqual(['Z1', 'C1', 'C2']);
    expect(section.outlines.flatMap(({ name }) => name ?? [])).toEqual(
      expect.arrayContaining(['board', 'processor', 'aluminium plate', 'pack']),
    );
    expect(section.y_mm.at(-1)).toBeCloseTo(1.8 + 2.4 + 1.2 + 14.3 + 1.8, 9);
    expect(shown.planes).toEqual(['pack', 'shield', 'board', 'front-shell', 'back-shell']);
    expect(show(wishFor(setupOf('bare'), { plane: 'shield' })).plane).toBe('pack');
  });

  test('the key of a calibration changes with what it rests on, and with nothing else', () => {
    const key = (changed: typeof build) => calibrationKey(changed, contests, corrections);
    const untouched = key(build);
    const fourth = { ...setupOf('plate'), id: 'untried' };
    expect(key({ ...build, setups: [...build.setups, fourth], limits: [], name: 'other' })).toBe(untouched);
    expect(key({ ...build, zones: build.zones.slice(1) })).not.toBe(untouched);
    const thicker = build.setups.map((setup) =>
      setup.id === 'plate'
        ? { ...setup, layers: setup.layers.map((layer) => ({ ...layer, thickness_mm: 0.1 })) }
        : setup,
    );
    expect(key({ ...build, setups: thicker })).not.toBe(untouched);
    expect(calibrationKey(build, contests.slice(1), corrections)).not.toBe(untouched);
  });
});
