import { describe, expect, test } from 'vitest';
import { type Estimate, plainText } from '../measure/index.js';
import type { DutyYear } from '../records/index.js';
import { presentBandChart, presentYearChart } from './draw-life.js';
import { changeDuty } from './duty/change-duty.js';
import { risesInOrder } from './duty/follow-year.js';
import { layOutYear } from './duty/lay-out-year.js';
import type { LifeInput, SetupRises } from './forecast/forecast-input.js';
import { forecastLife } from './forecast/forecast-life.js';
import { compareWhatIfs, weighChange } from './forecast/what-ifs.js';
import { yearsRange } from './life-words.js';
import { presentLife } from './present-life.js';
import { presentCapacityBands, presentLifeRatios, presentLifeYears } from './present-life-plots.js';
import { presentWhatIfs } from './present-what-ifs.js';
import { presentYear } from './present-year.js';

const rise = (value: number, u = 0.4): Estimate => ({ value, u, dof: 9 });
const setup = (id: string, name: string, load_K: number, u?: number): SetupRises => ({
  setup: id,
  name,
  rises: {
    load: [rise(load_K, u), rise(load_K - 2, u)],
    idle: [rise(8)],
    charging: [rise(6)],
    docked: [rise(3)],
  },
});
const duty: DutyYear = {
  activities: [
    { id: 'load', name: 'under load', h_per_day: 4, use_W: 6 },
    { id: 'idle', name: 'idle', h_per_day: 2, use_W: 1.5 },
  ],
  charging: { habit: 'overnight', lowest: 0.1 },
  room: { monthly_C: [25], swing_K: 4 },
};
const input: LifeInput = {
  pack: {
    chemistry: 'LCO',
    series: 2,
    energy_Wh: 38,
    thickness_mm: 9.9,
    price: { amount: 40, currency: 'EUR' },
  },
  duty,
  setups: [
    setup('bare', 'bare', 24),
    setup('film', 'polyimide film', 24.1),
    { ...setup('strips', 'plate on strips', 16), spacer: { gap_mm: 0.5, becomes: 'film' } },
  ],
  draws: 400,
  seed: 5,
};
function forecast(of: LifeInput) {
  const result = forecastLife(of);
  if (!result.ok) throw new Error(result.reason.kind);
  return result.value;
}
const made = forecast(input);
const view = presentLife(made);

describe('the life page in words', () => {
  test('says first which set-up lasts longest, how firm that is, and that the years are not', () => {
    expect(plainText(view.answer)).toMatch(
      /^The pack almost certainly lasts longest in plate on strips \(chance .*%\): 1\.\d\d to 1\.\d\d times as long as in bare\.$/,
    );
    expect(plainText(view.years)).toMatch(
      /Models differ more than set-ups do .*trust the order and not the years\.$/,
    );
  });

  test('calls an open order open', () => {
    const open = presentLife(
      forecast({
        ...input,
        setups: [setup('a', 'a', 20, 2), setup('b', 'b', 20, 2), setup('c', 'c', 20, 2)],
      }),
    );
    expect(plainText(open.answer)).toMatch(/^Which set-up the pack lasts longest in is open/);
    expect(plainText(open.years)).toMatch(/the order is not firm either/);
  });

  test('a single set-up is told to look for another', () => {
    const alone = presentLife(forecast({ ...input, setups: input.setups.slice(0, 1) }));
    expect(plainText(alone.answer)).toMatch(/Another set-up to compare with gives a firmer answer/);
  });

  test('says that ten kelvins buy little of what they would all day, where the hot hours are few', () => {
    expect(view.tenKelvin).toMatch(/^Use warms the pack for 6\.0 of 24 hours\..*small beside the/);
    const always: LifeInput = {
      ...input,
      duty: {
        ...duty,
        activities: [{ id: 'load', name: 'under load', h_per_day: 23.5, use_W: 1 }],
        charging: { habit: 'docked', whileInUse: true },
      },
    };
    expect(presentLife(forecast(always)).tenKelvin).toMatch(/were it in use all day/);
  });

  test('tells of the gap, the cells, the chemistry and where the models stand', () => {
    expect(view.gaps).toHaveLength(1);
    expect(view.gaps[0]).toMatch(/from then on it is counted as polyimide film/);
    expect(view.cells[0]).toMatch(/^bare: cell 1 gives out first/);
    expect(view.chemistry).toMatch(/3 of 8 models were made with such cells/);
    expect(view.whyDiffer).toMatch(/cells of one make/);
    expect(view.models.some(({ standing }) => standing.includes('lent from'))).toBe(true);
    expect(view.rows[0]?.costPerYear).toMatch(/EUR a year/);
  });

  test('carries its cautions, and promises nothing', () => {
    expect(view.cautions.join(' ')).toMatch(/swollen[\s\S]*full[\s\S]*suddenly/);
    expect(JSON.stringify(view)).not.toMatch(/\bsafe/i);
  });

  test('years beyond telling are said to be more, not a number', () => {
    expect(yearsRange({ p05: 2.34, p95: 100 })).toBe('2.3 years or more');
    expect(yearsRange({ p05: 100, p95: 100 })).toBe('more than 100 years');
    expect(yearsRange({ p05: 2.34, p95: 14.6 })).toBe('2.3 to 15 years');
  });
});

describe('the plots', () => {
  test('ranges without a best value, ticks for the single models', () => {
    const years = presentLifeYears(made, 'strips');
    expect(years.rows.map(({ mark }) => mark?.value)).toEqual([null, null, null]);
    expect(years.rows[0]?.runs).toHaveLength(made.models.length);
    expect(years.rows.map(({ isChosen }) => isChosen)).toEqual([false, false, true]);
    expect(years.label).toMatch(/^Years to 80 %: bare /);
  });

  test('ratios are firm only where nine draws in ten agree', () => {
    const ratios = presentLifeRatios(made);
    expect(ratios.rows.map(({ isFirm }) => isFirm)).toEqual([false, true]);
    expect(ratios.zero?.words).toBe('as bare');
    expect(presentLifeRatios(forecast({ ...input, setups: input.setups.slice(0, 1) })).label).toMatch(
      /no other set-up/,
    );
  });

  test('bands run in per cent from a full pack', () => {
    const [bare] = presentCapacityBands(made);
    expect(bare?.points[0]).toEqual({ year: 0, thin: [100, 100], thick: [100, 100] });
    expect(bare?.words).toMatch(/^bare: \d+ to \d+ % left after 5 years\.$/);
  });
});

test('what-ifs say what helps most, or that nothing does', () => {
  const asked = compareWhatIfs({ ...input, draws: 200 }, 'bare');
  if (!asked.ok) throw new Error(asked.reason.kind);
  const table = presentWhatIfs(asked.value);
  expect(table.answer).toMatch(/helps most: .* times as long\.$/);
  expect(table.rows[0]).toMatchObject({ id: 'as-it-is', ratio: '' });
  expect(presentWhatIfs({ rows: asked.value.rows.slice(0, 1), leftOut: [] }).answer).toMatch(/^None/);
});

test('the year as a picture: warmer in use than at rest, and as warm on average as its hours add up to', () => {
  const year = layOutYear(duty, 38);
  const rises_K = risesInOrder(year, setup('a', 'a', 22).rises, 1);
  expect(rises_K.slice(0, 4)).toEqual([20, 8, 6, 3]);
  const { months, day, words } = presentYear(year, rises_K);
  expect(months).toHaveLength(12);
  const use = day.filter(({ hour }) => hour >= 16 && hour < 20);
  for (const { cell_C } of use) expect(cell_C).toBeGreaterThan(42);
  expect(months[5]?.room_C).toBeCloseTo(25, 1);
  expect(words).toMatch(/°C on average/);
});

test('a change put together by hand is what the row of the same change is', () => {
  const few = { ...input, draws: 200 };
  const [rows, asked] = [compareWhatIfs(few, 'bare'), weighChange(few, 'bare', { limit: 0.8 })];
  if (!rows.ok || !asked.ok) throw new Error('There is no answer.');
  const row = rows.value.rows.find(({ id }) => id === 'limit-80');
  expect(asked.value.rows.map(({ id }) => id)).toEqual(['as-it-is', 'asked']);
  expect(asked.value.rows[1]?.years).toEqual(row?.years);
  expect(asked.value.rows[1]?.ratio).toEqual(row?.ratio);
  const nothing = weighChange(few, 'bare', {});
  if (!nothing.ok) throw new Error(nothing.reason.kind);
  expect(nothing.value.rows[1]?.ratio).toMatchObject({ p05: 1, p95: 1 });
});

test('a duty is changed within what days and rooms allow', () => {
  const changed = changeDuty(duty, { hours: 10, room_K: 50, unplugAtFull: true });
  expect(changed.activities.reduce((sum, { h_per_day }) => sum + h_per_day, 0)).toBeCloseTo(24, 9);
  expect(changed.room.monthly_C).toEqual([60]);
  expect(changed.charging.unplugAtFull).toBe(true);
  const byVoltage = { ...duty, charging: { ...duty.charging, limit_V: 4.1 } };
  expect(changeDuty(byVoltage, {}).charging.limit_V).toBe(4.1);
  expect(changeDuty(byVoltage, { limit: 0.9 }).charging).toEqual({ ...duty.charging, limit: 0.9 });
});

test('the drawings carry the bands, and never a lower end that hides a loss', () => {
  const chart = presentBandChart(made, 'strips');
  expect(chart.panels.map(({ isChosen }) => isChosen)).toEqual([false, false, true]);
  expect(chart.panels[0]?.points.at(-1)?.at).toBe(5);
  expect(chart.range[0]).toBeLessThan(80);
  const year = layOutYear(duty, 38);
  const courses = presentYearChart(presentYear(year, risesInOrder(year, setup('a', 'a', 22).rises)));
  expect(courses.panels.map(({ charge }) => charge.length)).toEqual([12, 24]);
});
