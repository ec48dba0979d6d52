import { beforeAll, describe, expect, test } from 'vitest';
import { makeBuild } from '../../../../examples/generator/scenario.mjs';
import { type Build, checkBuild, type DutyYear, newBuild } from '../records/index.js';
import { assessBuild } from './assess-build.js';
import { askChange, askWhatIfs, forecastBuild, outlookBuild, picturedYear } from './forecast-build.js';
import { gatherLife } from './gather-life.js';
import { spacerOf } from './spacer-gap.js';
import type { Assessment } from './verdict.js';

const made = makeBuild({ seed: 43 }) as {
  build: unknown;
  logs: Map<string, Uint8Array>;
  truth: { setups: { setup: string; rises_K: { chargingIdle: Record<'c1' | 'c2', number> } }[] };
};
const read = checkBuild(JSON.parse(JSON.stringify(made.build)));
const { dutyYear: _, ...rest } = read;
const pack = { ...(read.newPack as NonNullable<Build['newPack']>), chemistry: 'LCO' };
const demo: Build = { ...rest, newPack: pack };
let assessment: Assessment;
beforeAll(() => {
  assessment = assessBuild(demo, (file) => made.logs.get(file));
});
const gather = (build: Build = demo, from = assessment) => {
  const result = gatherLife(build, from);
  if (!result.ok) throw new Error(result.reason.kind);
  return result.value;
};
const quiet = { draws: 200, seed: 7 };
const long: DutyYear = {
  activities: [
    { id: 'recording', name: 'recording', h_per_day: 3, use_W: 3.9 },
    { id: 'listening', name: 'listening', h_per_day: 2, use_W: 1.95 },
  ],
  charging: { habit: 'docked' },
  room: { monthly_C: [22] },
};

describe('the input of a forecast', () => {
  test('has the rises that the runs compare, cell by cell, baseline first', () => {
    const { input, leftOut } = gather();
    expect(leftOut).toEqual([]);
    expect(input.setups.map(({ setup }) => setup)).toEqual(['bare', 'film', 'plate', 'strips']);
    const contests = [assessment.compare.main, ...assessment.compare.others];
    const mean = (probe: string, phase: string, setup: string) =>
      contests
        .find(
          (each) =>
            each?.quantity.probe === probe && each.quantity.phase === phase && !each.quantity.charging,
        )
        ?.setups.find((each) => each.setup === setup)?.rise_K;
    for (const { setup, rises } of input.setups) {
      for (const phase of ['load', 'idle']) {
        expect(rises[phase]?.map(({ value }) => value)).toEqual(
          ['c1', 'c2'].map((probe) => mean(probe, phase, setup)?.value),
        );
        // One more mounting and the probes are more in doubt than the mean of the runs.
        for (const [cell, probe] of ['c1', 'c2'].entries())
          expect(rises[phase]?.[cell]?.u).toBeGreaterThan(mean(probe, phase, setup)?.u ?? 99);
      }
    }
    expect(input.sharedRise_u_K).toBeGreaterThan(0);
  });

  test('lends the warmth of the charge to set-ups that were not charged in, and says so', () => {
    const { input, assumed } = gather();
    const rise = (setup: string, state: string, cell: number) =>
      input.setups.find((each) => each.setup === setup)?.rises[state]?.[cell]?.value ?? Number.NaN;
    for (const cell of [0, 1]) {
      const added = rise('plate', 'charging', cell) - rise('plate', 'idle', cell);
      expect(added).toBeGreaterThan(0);
      expect(rise('bare', 'charging', cell) - rise('bare', 'idle', cell)).toBeCloseTo(added, 9);
    }
    expect(assumed.join(' ')).toMatch(
      /Charging was not measured in bare, polyimide film and plate on strips/,
    );
  });

  test('what is lent agrees with what the generator knows of set-ups that were never charged in', () => {
    const { input } = gather();
    const rise = input.setups[0]?.rises['charging'] ?? [];
    const true_K = made.truth.setups.find(({ setup }) => setup === 'bare')?.rises_K.chargingIdle;
    for (const [cell, probe] of (['c1', 'c2'] as const).entries()) {
      const { value = 0, u = 0 } = rise[cell] ?? {};
      // Two in a hundred would be further off by chance; a lent rise that forgot the charge is off by six u.
      expect(Math.abs(value - (true_K?.[probe] ?? Number.NaN))).toBeLessThan(2.33 * u);
    }
  });

  test('makes a year of the ordinary day, with the runs’ power', () => {
    const { input, assumed } = gather();
    expect(input.duty.activities[0]).toMatchObject({ id: 'load', h_per_day: 4 });
    expect(input.duty.activities[0]?.use_W).toBeCloseTo(3.9, 9);
    // The generator gives idling 0.45 W at the zones and 0.8 W at the board; warmth is not quite in proportion to power.
    expect(Math.abs((input.duty.activities[1]?.use_W ?? 0) - 1.25)).toBeLessThan(0.1);
    expect(input.setups[0]?.rises['rest']).toEqual([{ value: -3, u: 0, dof: null }]);
    expect(assumed.join(' ')).toMatch(/3\.9 W under load, as noted, and 1\.2 W idle/);
  });

  test('takes the rise of another activity in proportion to its power, with more doubt the further it is', () => {
    const { input, assumed } = gather({ ...demo, dutyYear: long });
    const bare = input.setups[0]?.rises;
    expect(input.duty).toBe(long);
    expect(bare?.['rest']).toBeUndefined();
    const [full, half] = [bare?.['recording']?.[0], bare?.['listening']?.[0]];
    expect(half?.value).toBeCloseTo((full?.value ?? 0) / 2, 9);
    // A fifth of the 12.4 K that half the power takes away.
    expect(half?.u).toBeGreaterThan(0.2 * 12);
    expect(full?.u).toBeLessThan(1);
    expect(assumed.join(' ')).toMatch(/The rise in listening is taken in proportion/);
  });

  test('a strip’s gap ends as the same layers without the strips', () => {
    // A bay of 14.3 less the converter's 2.4, 0.85 of layers and a pack of 9.9.
    const room_mm = 14.3 - 2.4 - 0.85 - 9.9;
    const found = spacerOf(demo, 'strips');
    expect(found).toMatchObject({ gap_mm: 0.25, becomes: 'plate' });
    expect(found?.room_mm).toBeCloseTo(room_mm, 9);
    expect(spacerOf(demo, 'plate')).toBeUndefined();
    const alone = { ...demo, setups: demo.setups.filter(({ id }) => id !== 'plate') };
    expect(spacerOf(alone, 'strips')?.becomes).toBe('');
    // On the back shell there is no room behind it, and without the records of the bay nobody knows of any.
    const device = { ...(demo.device as NonNullable<Build['device']>), packRestsOn: 'back-shell' as const };
    expect(spacerOf({ ...demo, device }, 'strips')?.room_mm).toBe(0);
    const { device: _device, ...unmeasured } = demo;
    expect(spacerOf(unmeasured as Build, 'strips')).toEqual({ gap_mm: 0.25, becomes: 'plate' });
  });

  test('leaves out a set-up whose idling was not measured, and counts an unprobed cell as the warmest', () => {
    const isIdleOfFilm = ({ quantity }: { quantity: { phase: string } }) => quantity.phase === 'idle';
    const others = assessment.compare.others.map((contest) =>
      isIdleOfFilm(contest)
        ? { ...contest, setups: contest.setups.filter(({ setup }) => setup !== 'film') }
        : contest,
    );
    const { input, leftOut } = gather(demo, {
      ...assessment,
      compare: { ...assessment.compare, others },
    });
    expect(input.setups.map(({ setup }) => setup)).toEqual(['bare', 'plate', 'strips']);
    expect(leftOut).toEqual([
      { setup: 'film', why: 'How warm it gets in "idle" was not measured in polyimide film.' },
    ]);
    const third = gather({ ...demo, newPack: { ...pack, series: 3 } });
    expect(third.assumed.join(' ')).toMatch(/No probe sits on cell 3/);
    const cells = third.input.setups[0]?.rises['load'] ?? [];
    expect(cells[2]?.value).toBe(Math.max(...cells.slice(0, 2).map(({ value }) => value)));
  });

  test.each([
    ['no-pack', (build: Build) => without(build, 'newPack')],
    ['no-duty', (build: Build) => without(build, 'duty')],
    [
      'no-energy',
      (build: Build) => ({
        ...build,
        newPack: { ...pack, energy_Wh: undefined, capacity_mAh: undefined } as typeof pack,
      }),
    ],
    [
      'no-power',
      (build: Build) => ({
        ...build,
        zones: [],
        runs: build.runs.map((run) => ({ ...run, conditions: undefined }) as typeof run),
      }),
    ],
  ] as const)('says %s, and what to do', (kind, spoil) => {
    const result = gatherLife(spoil(demo), assessment);
    expect(result).toMatchObject({ ok: false, reason: { kind } });
  });

  test('a build without runs is told to soak', () => {
    const bare: Build = { ...demo, runs: [] };
    const empty = assessBuild(bare, () => undefined);
    expect(gatherLife(bare, empty)).toMatchObject({ ok: false, reason: { kind: 'no-runs' } });
    const fresh = newBuild('new', 'new');
    expect(
      forecastBuild(
        fresh,
        assessBuild(fresh, () => undefined),
      ).ok,
    ).toBe(false);
  });

  test('energy follows from charge and voltage where it is not on the label', () => {
    const { energy_Wh: __, ...unlabelled } = pack;
    // 5.135 Ah at 7.4 V.
    expect(gather({ ...demo, newPack: unlabelled }).input.pack.energy_Wh).toBeCloseTo(37.999, 3);
  });
});

describe('a build’s forecast', () => {
  test('ranks its set-ups, the same way for the same seed', () => {
    const result = forecastBuild(demo, assessment, quiet);
    if (!result.ok) throw new Error(result.reason.kind);
    const { forecast } = result.value;
    expect(forecast.setups.map(({ setup }) => setup)).toEqual(['bare', 'film', 'plate', 'strips']);
    // Cell 1 decides in each of them, and is the coolest on strips.
    expect(forecast.setups[3]?.ratio?.p50).toBeGreaterThan(1);
    expect(forecastBuild(demo, assessment, quiet)).toEqual(result);
  });

  test('has the years and chances that its outlook has, to the last digit', () => {
    const [whole, brief] = [forecastBuild(demo, assessment), outlookBuild(demo, assessment)];
    if (!whole.ok || !brief.ok) throw new Error('no forecast');
    const told = ({ setup, years, ratio, chanceLongest }: (typeof brief.value.outlook.setups)[number]) => ({
      setup,
      years,
      ratio,
      chanceLongest,
    });
    expect(brief.value.outlook.setups.map(told)).toEqual(whole.value.forecast.setups.map(told));
  });

  test('names no years where the chemistry names no cathode', () => {
    const vague = { ...demo, newPack: { ...pack, chemistry: 'lithium-ion pouch' } };
    expect(forecastBuild(vague, assessment, quiet)).toMatchObject({
      ok: false,
      reason: { kind: 'unknown-chemistry' },
    });
  });

  test('refuses a day of more than 24 hours by name', () => {
    const busy: DutyYear = {
      ...long,
      activities: [{ id: 'all', name: 'always', h_per_day: 24, use_W: 1 }, ...long.activities],
    };
    expect(() => forecastBuild({ ...demo, dutyYear: busy }, assessment, quiet)).toThrow(/29 hours a day/);
  });

  test('asks what-ifs of one set-up, and says whose rises the original pack was given', () => {
    const original = { ...pack, energy_Wh: 22 };
    const result = askWhatIfs({ ...demo, originalPack: original }, assessment, 'plate', quiet);
    if (!result.ok) throw new Error(result.reason.kind);
    const row = result.value.rows.find(({ id }) => id === 'original-pack');
    expect(row?.note).toMatch(/22 Wh in place of 38\. At the new pack’s rises/);
  });

  test('answers with the figure that is in the way where no pack goes through it', () => {
    const low = { ...demo, dutyYear: { ...long, charging: { habit: 'docked', lowest: 0.7 } as const } };
    expect(askChange(low, assessment, 'bare', { limit: 0.6 }, quiet)).toMatchObject({
      ok: false,
      reason: { kind: 'odd-figure' },
    });
    const hot = { ...long, activities: [{ id: 'all', name: 'all out', h_per_day: 1, use_W: 39 }] };
    const result = forecastBuild({ ...demo, dutyYear: hot }, assessment, quiet);
    // Ten times the power of the runs would be 247 K.
    expect(result).toMatchObject({ ok: false, reason: { kind: 'odd-figure' } });
    expect(result.ok ? '' : result.reason.remedy).toMatch(/rises of bare\.all .* received 247/);
  });

  test('weighs one change, and pictures the year of the warmest cell', () => {
    const asked = askChange(demo, assessment, 'bare', { hours: 0.5 }, quiet);
    const table = askWhatIfs(demo, assessment, 'bare', quiet);
    const made = forecastBuild(demo, assessment, quiet);
    if (!asked.ok || !table.ok || !made.ok) throw new Error('There is no answer.');
    const row = table.value.rows.find(({ id }) => id === 'half-the-hours');
    expect(asked.value.rows[1]?.ratio).toEqual(row?.ratio);
    // Four hours a day at 25 °C and the rise of cell 1 under load.
    const warmest = picturedYear(made.value, 'bare').months[6]?.warmest_C ?? 0;
    expect(warmest).toBeCloseTo(25 + (made.value.input.setups[0]?.rises['load']?.[0]?.value ?? 0), 6);
  });
});

function without(build: Build, field: 'newPack' | 'duty'): Build {
  const { [field]: __, ...others } = build;
  return others as Build;
}
