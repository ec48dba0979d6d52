import { describe, expect, test } from 'vitest';
import type { Estimate } from '../../measure/index.js';
import type { DutyYear } from '../../records/index.js';
import { condenseYear } from '../duty/condense-year.js';
import { layOutYear } from '../duty/lay-out-year.js';
import { powerLaw } from '../models/ageing-model.js';
import { modelFamily, publishedModels } from '../models/model-family.js';
import { openCircuitOf } from '../open-circuit/open-circuit.js';
import { ageInState } from './age-over-year.js';
import { type ModelSpread, modelSpread } from './draw-spread.js';
import { type LifeInput, prepareLife, type SetupRises } from './forecast-input.js';
import { forecastLife } from './forecast-life.js';
import { spreadOf } from './quantiles.js';
import { closingSwelling_mm, simulateLife } from './simulate-life.js';
import { tellFadeApart } from './tell-fade-apart.js';
import { weighTenKelvin } from './weigh-ten-kelvin.js';
import { compareWhatIfs } from './what-ifs.js';

const exact = (value: number): Estimate => ({ value, u: 0, dof: null });
const doubtful = (value: number): Estimate => ({ value, u: 0.8, dof: 7 });
const noSpread: ModelSpread = { level: 0, lentLevel: 0, energy_J_per_mol: 0, bend: 0, cell: 0 };
const duty: DutyYear = {
  activities: [
    { id: 'load', name: 'under load', h_per_day: 4, use_W: 6 },
    { id: 'idle', name: 'idle', h_per_day: 2, use_W: 1.5 },
  ],
  charging: { habit: 'overnight', lowest: 0.1 },
  room: { monthly_C: [20, 20, 21, 22, 23, 25, 27, 27, 25, 22, 21, 20], swing_K: 4 },
};
const setup = (id: string, load_K: number[], of = doubtful): SetupRises => ({
  setup: id,
  name: id,
  rises: { load: load_K.map(of), idle: [of(8)], charging: [of(6)], docked: [of(3)] },
});
const pack = { chemistry: 'LCO', series: 2, energy_Wh: 38, thickness_mm: 9.9 };
const base: LifeInput = {
  pack,
  duty,
  setups: [setup('bare', [24, 22]), setup('plate', [21, 20]), setup('strips', [20, 19])],
  draws: 800,
  seed: 3,
};
function forecast(input: LifeInput) {
  const result = forecastLife(input);
  if (!result.ok) throw new Error(result.reason.remedy);
  return result.value;
}

describe('a forecast', () => {
  test('without doubt is the plain course of each model, its year laid out anew as it fades', () => {
    const still = { ...duty, doubt: { hours: 0, room_K: 0 } };
    const input = {
      ...base,
      duty: still,
      setups: [setup('bare', [24, 20], exact)],
      spread: noSpread,
      draws: 16,
    };
    const { setups, models } = forecast(input);
    const curve = openCircuitOf('LCO');
    const charger = { ...still, charging: { ...still.charging, charge_W: 0.35 * pack.energy_Wh } };
    const years = Array.from({ length: 21 }, (_, i) => 1 - i / 100).map((left) =>
      condenseYear(layOutYear(charger, left * pack.energy_Wh), curve, left),
    );
    const rises_K = years[0]?.states.map(
      (state) => ({ load: 24, idle: 8, charging: 6, docked: 3 })[state] ?? 0,
    );
    for (const [index, { capacity, model }] of modelFamily('LCO', 1).entries()) {
      const ages = capacity.map((mechanism) =>
        years.map((year) =>
          (rises_K ?? []).reduce(
            (sum, rise_K, state) =>
              sum + ageInState(mechanism, year, state, rise_K, { more_J_per_mol: 0, pivot_K: 298.15 }),
            0,
          ),
        ),
      );
      const lossOf = (s: readonly number[]) =>
        capacity.reduce((sum, { lossAt }, m) => sum + lossAt(s[m] ?? 0), 0);
      const rateAt = (m: number, loss: number) => {
        const at = Math.min(19, Math.floor(100 * loss));
        const [low = 0, high = 0] = [ages[m]?.[at], ages[m]?.[at + 1]];
        return low + (100 * loss - at) * (high - low);
      };
      // By the midpoint rule in the root of time, which most losses follow nearly straight.
      const h = 0.002;
      let s = capacity.map(() => 0);
      let u = 0;
      for (; lossOf(s) < 0.2; u += h) {
        const here = lossOf(s);
        const half = s.map((age, m) => age + h * (u + h / 4) * rateAt(m, here));
        const loss = lossOf(half);
        s = s.map((age, m) => age + h * (2 * u + h) * rateAt(m, loss));
      }
      expect(models[index]?.id).toBe(model.id);
      // The parabola through three years of the 21 brings some 1e-4 of a rate, and one step of u is 2 h / u of a time.
      expect(Math.abs((models[index]?.years ?? 0) / (u - h / 2) ** 2 - 1), model.id).toBeLessThan(
        1e-3 + h / u,
      );
    }
    expect(setups[0]?.years.p50).toBeGreaterThan(0);
  });

  test('where nothing is drawn, fade does not feed back: a kiosk lasts as long as the closed form says', () => {
    const kiosk: DutyYear = {
      activities: [],
      charging: { habit: 'docked' },
      room: { monthly_C: [25] },
      doubt: { hours: 0, room_K: 0 },
    };
    const docked = [{ setup: 'a', name: 'a', rises: { docked: [exact(10)] } }];
    const { models } = forecast({ ...base, duty: kiosk, setups: docked, spread: noSpread, draws: 16 });
    // The film on a pouch's anode: 3.503e-3 exp(-(35392/R)(1/308.15 - 1/298.15)) per root of a day, a fifth after (0.2/k)² of them.
    const k = 3.503e-3 * Math.exp((-35_392 / 8.314) * (1 / 308.15 - 1 / 298.15));
    const years = (0.2 / k) ** 2 / 365;
    expect(Math.abs((models.find(({ id }) => id === 'smith-2017')?.years ?? 0) / years - 1)).toBeLessThan(
      1e-6,
    );
  });

  test('a worn pack that no longer lasts a day is said, before a new one runs empty', () => {
    const heavy = { ...duty, activities: [{ id: 'load', name: 'under load', h_per_day: 5.4, use_W: 6 }] };
    const { notes } = forecast({ ...base, duty: heavy, draws: 40 });
    // 32.4 Wh a day of 38 Wh; of 30.4 Wh only 0.9 can be drawn, 27.36 Wh, which is 16 % less.
    expect(notes.join(' ')).toMatch(/Worn to 80 %, the pack no longer lasts: 16 % of what/);
    expect(forecast({ ...base, draws: 40 }).notes.join(' ')).not.toMatch(/Worn to 80 %/);
  });

  test('is the same again from the same seed, and nearly so from another', () => {
    const [once, twice] = [forecast(base), forecast(base)];
    expect(twice.setups).toEqual(once.setups);
    const other = forecast({ ...base, seed: 99 });
    // Medians of 800 draws whose logarithms spread by about 0.8: standard error 1.25 × 0.8 / √800 = 0.035.
    const ratio = (other.setups[0]?.years.p50 ?? 0) / (once.setups[0]?.years.p50 ?? 1);
    expect(Math.abs(Math.log(ratio))).toBeLessThan(4 * 0.05);
  });

  test('bands widen around a course that only falls, and hold the order of their quantiles', () => {
    for (const { bands, years } of forecast(base).setups) {
      for (const [i, band] of bands.entries()) {
        expect([band.p05, band.p25, band.p50, band.p75, band.p95]).toEqual(
          [band.p05, band.p25, band.p50, band.p75, band.p95].sort((a, b) => a - b),
        );
        expect(band.p50).toBeLessThanOrEqual(bands[i - 1]?.p50 ?? 1);
      }
      expect(bands[0]?.p05).toBe(1);
      expect(years.p05).toBeLessThan(years.p95);
    }
  });

  test('ranks set-ups more firmly than it counts years', () => {
    const { setups, differ } = forecast(base);
    const [bare, , strips] = setups;
    expect(strips?.chanceLonger).toBeGreaterThan(0.9);
    expect(setups.reduce((sum, { chanceLongest }) => sum + chanceLongest, 0)).toBeCloseTo(1, 9);
    expect(strips?.ratio?.p05).toBeGreaterThan(0.97);
    expect(strips?.ratio?.p95).toBeLessThan(1.6);
    // The years themselves are open by far more than the set-ups differ.
    expect((bare?.years.p95 ?? 0) / (bare?.years.p05 ?? 1)).toBeGreaterThan(3);
    expect(differ.models).toBeGreaterThan(2 * differ.setups);
  });

  test('two alike set-ups without doubt of their own end together', () => {
    const twins = forecast({ ...base, setups: [setup('a', [20], exact), setup('b', [20], exact)] });
    expect(twins.setups[1]?.ratio).toEqual({ p05: 1, p25: 1, p50: 1, p75: 1, p95: 1 });
    expect(twins.setups.map(({ chanceLongest }) => chanceLongest)).toEqual([0.5, 0.5]);
    expect(twins.setups[1]?.chanceLonger).toBe(0);
  });

  test('doubt that set-ups share cannot change their order', () => {
    const apart = forecast({ ...base, setups: base.setups.slice(0, 2) });
    const together = forecast({ ...base, setups: base.setups.slice(0, 2), sharedRise_u_K: 0.8 });
    expect(together.setups[1]?.chanceLonger).toBe(1);
    expect(apart.setups[1]?.chanceLonger).toBeLessThan(1);
  });

  describe('against the spread worked out by hand, for one law at one temperature', () => {
    // The film on a pouch's anode, 35.392 kJ/mol on k and twice that on life, at 25 + 17 °C: 0.0857 per kelvin on the logarithm of time, and
    // 1/R (1/315.15 - 1/298.15) per J/mol of doubt about the energy of life. Quantiles at 5 and 95 % lie 2 × 1.6449 deviates apart.
    const perKelvin = 70_784 / 8.314 / 315.15 ** 2;
    const perEnergy = (1 / 298.15 - 1 / 315.15) / 8.314;
    const apart = 2 * 1.6449;
    const kiosk: DutyYear = {
      activities: [],
      charging: { habit: 'docked' },
      room: { monthly_C: [25] },
      doubt: { hours: 0, room_K: 0 },
    };
    const spreadWith = (change: Partial<LifeInput>) => {
      const prepared = prepareLife({
        ...base,
        duty: kiosk,
        setups: [{ setup: 'a', name: 'a', rises: { docked: [exact(17)] } }],
        spread: noSpread,
        draws: 4000,
        ...change,
      });
      if (!prepared.ok) throw new Error(prepared.reason.kind);
      const family = modelFamily('LCO', 0).filter(({ model }) => model.id === 'smith-2017');
      const { p05, p95 } = spreadOf(
        simulateLife(prepared.value, family).setups[0]?.years ?? new Float64Array(),
      );
      return Math.log(p95 / p05);
    };
    const riseOf = (u: number, dof: number | null) => [
      { setup: 'a', name: 'a', rises: { docked: [{ value: 17, u, dof }] } },
    ];

    test.each([
      {
        of: 'the level',
        spread: () => spreadWith({ spread: { ...noSpread, level: 0.25 } }),
        expected: (apart * 0.25) / 0.5,
      },
      {
        of: 'the energy',
        spread: () => spreadWith({ spread: { ...noSpread, energy_J_per_mol: 5000 } }),
        expected: apart * 5000 * perEnergy,
      },
      { of: 'a rise', spread: () => spreadWith({ setups: riseOf(1, null) }), expected: apart * perKelvin },
      // Student's t at 95 % with 5 degrees of freedom is 2.015, against 1.645.
      {
        of: 'a rise of few runs',
        spread: () => spreadWith({ setups: riseOf(1, 5) }),
        expected: 2 * 2.015 * perKelvin,
      },
      {
        of: 'the room',
        spread: () => spreadWith({ duty: { ...kiosk, doubt: { hours: 0, room_K: 2 } } }),
        expected: apart * 2 * perKelvin,
      },
    ])('$of', ({ spread, expected }) => {
      // A quantile at 5 % of 4000 draws is off by about 0.02 to 0.03 of the distance to the median, at either end; three of that.
      expect(Math.abs(spread() / expected - 1)).toBeLessThan(0.07);
    });
  });
});

describe('cells in series', () => {
  test('the hottest gives out first, and the spread between them grows', () => {
    // Cells of one batch differ too, and now and then the cooler one is the worse: without that it is always the hottest.
    const alike = forecast({
      ...base,
      setups: [setup('bare', [28, 18])],
      spread: { ...modelSpread, cell: 0 },
    });
    expect(alike.setups[0]?.cells.map(({ weakest }) => weakest)).toEqual([1, 0]);
    const { setups } = forecast({ ...base, setups: [setup('bare', [28, 18])] });
    const [{ cells, years, imbalance } = { cells: [], years: null, imbalance: [] }] = setups;
    expect(cells[0]?.weakest).toBeGreaterThan(0.8);
    expect(cells[0]?.years.p50).toBeLessThan(cells[1]?.years.p50 ?? 0);
    expect(years?.p50).toBeLessThanOrEqual(cells[0]?.years.p50 ?? 0);
    expect(imbalance[0]?.p50).toBe(0);
    expect(imbalance.at(2)?.p50).toBeGreaterThan(imbalance.at(1)?.p50 ?? 1);
  });

  test('alike cells give out first in turns', () => {
    const { setups } = forecast({ ...base, draws: 2000, setups: [setup('bare', [20])] });
    // Half each; a share of 2000 draws has a standard error of 0.011.
    expect(Math.abs((setups[0]?.cells[0]?.weakest ?? 0) - 0.5)).toBeLessThan(0.045);
  });
});

describe('ten kelvins', () => {
  test('buy little where the hot hours are few, and much where they are many', () => {
    const few = forecast(base).tenKelvin;
    expect(few.hot_h).toBeCloseTo(6, 6);
    expect(few.buys[0]).toBeGreaterThan(1);
    expect(few.buys[1]).toBeLessThan(few.ifAlways[1]);
    const seldom = forecast({
      ...base,
      duty: { ...duty, activities: [{ id: 'load', name: 'load', h_per_day: 0.5, use_W: 6 }] },
    }).tenKelvin;
    expect(seldom.buys[1]).toBeLessThan(few.buys[1]);
    expect(seldom.buys[1]).toBeLessThan(1.2);
  });
});

describe('a gap that swelling closes', () => {
  const withGap = (gap_mm: number, room_mm?: number) =>
    forecast({
      ...base,
      setups: [
        setup('plate', [21]),
        {
          ...setup('strips', [15]),
          spacer: { gap_mm, becomes: 'plate', ...(room_mm === undefined ? {} : { room_mm }) },
        },
      ],
    });

  // A pouch that grows to both faces alike by s moves each by s/2, until the one behind is stopped: plain geometry.
  test('free room behind the pack takes half of the swelling until it is full', () => {
    expect(closingSwelling_mm({ gap_mm: 0.25, room_mm: 1.1 })).toBeCloseTo(0.5, 12);
    expect(closingSwelling_mm({ gap_mm: 0.25, room_mm: 0.1 })).toBeCloseTo(0.35, 12);
    expect(closingSwelling_mm({ gap_mm: 0.25 })).toBe(0.25);
    const closes = (gap_mm: number, room_mm?: number) => withGap(gap_mm, room_mm).setups[1]?.gap?.closes;
    expect(closes(0.3, 2)).toEqual(closes(0.6));
    expect(closes(0.3, 0)).toEqual(closes(0.3));
  });

  test('no gap at all is the plate from the first day, and a gap that never closes stays a gap', () => {
    const [plate, none] = withGap(0.01).setups;
    expect(none?.gap?.closes.p95).toBe(0);
    expect(none?.years).toEqual(plate?.years);
    const never = withGap(50).setups[1];
    expect(never?.gap?.within).toBe(0);
    const open = forecast({ ...base, setups: [setup('plate', [21]), setup('strips', [15])] }).setups[1];
    // The search for a time stops at 1e-9 of a loss.
    expect(Math.abs((never?.years.p50 ?? 0) / (open?.years.p50 ?? 1) - 1)).toBeLessThan(1e-8);
    expect(Math.abs((never?.years.p25 ?? 0) / (open?.years.p25 ?? 1) - 1)).toBeLessThan(1e-8);
  });

  test('half a millimetre under a pack of 9.9 mm closes within its life in some draws, later the wider it is', () => {
    const [plate, narrow] = withGap(0.5).setups;
    const wide = withGap(0.8).setups[1];
    expect(narrow?.gap?.beforeEnd).toBeGreaterThan(0.1);
    expect(wide?.gap?.closes.p50).toBeGreaterThan(narrow?.gap?.closes.p50 ?? 0);
    expect(narrow?.years.p50).toBeGreaterThan(plate?.years.p50 ?? 0);
    expect(narrow?.years.p50).toBeLessThanOrEqual(wide?.years.p50 ?? 0);
  });
});

describe('what is refused, and what is flagged', () => {
  const refusal = (input: LifeInput) => {
    const result = forecastLife(input);
    return result.ok ? '' : result.reason.kind;
  };

  test('a chemistry that names no cathode, a limit no such cell has, a rise that is missing', () => {
    expect(refusal({ ...base, pack: { ...pack, chemistry: 'lithium-ion pouch' } })).toBe('unknown-chemistry');
    const charged = (limit_V: number): LifeInput => ({
      ...base,
      duty: { ...duty, charging: { ...duty.charging, limit_V } },
    });
    expect(refusal(charged(4.35))).toBe('limit-outside');
    expect(refusal({ ...charged(3.4), pack: { ...pack, chemistry: 'LFP' } })).toBe('voltage-says-nothing');
    expect(refusal({ ...base, setups: [{ setup: 'a', name: 'a', rises: { load: [exact(9)] } }] })).toBe(
      'no-rise',
    );
  });

  test('a day of more than 24 hours, too many cells, a rise that is a temperature', () => {
    const long = { ...duty, activities: [{ id: 'load', name: 'load', h_per_day: 25, use_W: 1 }] };
    expect(() => forecastLife({ ...base, duty: long })).toThrow(/25 hours a day/);
    expect(() => forecastLife({ ...base, setups: [setup('a', [20, 20, 20])] })).toThrow(/one per cell/);
    expect(() => forecastLife({ ...base, setups: [setup('a', [Number.NaN])] })).toThrow(/kelvins/);
  });

  test('a share of a year for a horizon, half a draw, a seed of nothing', () => {
    expect(() => forecastLife({ ...base, horizon_years: 0.5 })).toThrow(/horizon_years/);
    expect(() => forecastLife({ ...base, draws: 100.5 })).toThrow(/draws.*whole/);
    expect(() => forecastLife({ ...base, seed: 0 })).toThrow(/seed/);
  });

  test('models beyond their tests are used and named', () => {
    const { flags } = forecast(base);
    expect(
      flags.find(({ model, quantity }) => model === 'schmalstieg-2014' && quantity === 'temperature')?.share,
    ).toBeGreaterThan(0.5);
    expect(flags.some(({ model, quantity }) => model === 'xu-2018' && quantity === 'temperature')).toBe(
      false,
    );
  });

  test('a charger’s warmth that nobody measured, an empty pack and a cold charge are said', () => {
    const bare = { setup: 'a', name: 'a', rises: { load: [exact(9)], idle: [exact(2)] } };
    const cold = { ...duty, room: { monthly_C: [8] } };
    const { notes } = forecast({ ...base, duty: cold, pack: { ...pack, energy_Wh: 20 }, setups: [bare] });
    expect(notes.join(' ')).toMatch(/held full on the charger/);
    expect(notes.join(' ')).toMatch(/runs empty/);
    expect(notes.join(' ')).toMatch(/below 20 °C/);
  });
});

describe('what if', () => {
  const packs = { original: { pack: { ...pack, energy_Wh: 22 }, rises: setup('original', [26, 24]).rises } };
  const asked = compareWhatIfs(
    { ...base, draws: 400, pack: { ...pack, price: { amount: 40, currency: 'EUR' } } },
    'plate',
    packs,
  );
  if (!asked.ok) throw new Error(asked.reason.kind);
  const rows = new Map(asked.value.rows.map((row) => [row.id, row]));

  test('every question has a row', () => {
    expect([...rows.keys()]).toEqual([
      'as-it-is',
      'limit-90',
      'limit-80',
      'unplug-at-full',
      'cooler-room',
      'half-the-hours',
      'bigger-pack',
      'original-pack',
    ]);
  });

  test('as it is, a set-up lives as long as it does among the others, draw by draw', () => {
    const among = forecast({ ...base, draws: 400 }).setups.find(({ setup }) => setup === 'plate');
    expect(rows.get('as-it-is')?.years).toMatchObject({ p05: among?.years.p05, p95: among?.years.p95 });
    // A set-up more beside it, and it meets the same packs with the same doubts; the tables of rates then span more kelvins, which shows in the
    // sixth digit.
    const more = forecast({ ...base, draws: 400, setups: [...base.setups, setup('foam', [22, 22])] });
    const beside = more.setups.find(({ setup }) => setup === 'plate');
    for (const end of ['p05', 'p50', 'p95'] as const)
      expect((beside?.years[end] ?? 0) / (among?.years[end] ?? 1)).toBeCloseTo(1, 5);
  });

  test('another pack of unknown chemistry is left out, and the rest stands', () => {
    const unknown = { original: { ...packs.original, pack: { ...packs.original.pack, chemistry: 'pouch' } } };
    const some = compareWhatIfs({ ...base, draws: 40 }, 'plate', unknown);
    if (!some.ok) throw new Error(some.reason.kind);
    expect(some.value.leftOut.map(({ title }) => title)).toEqual(['the original pack']);
    expect(some.value.leftOut[0]?.why).toContain('names no cathode');
    expect(some.value.rows).toHaveLength(7);
  });

  test('each change helps in more than half of the draws', () => {
    // Not in all: to some models the charge is all one.
    for (const id of ['limit-90', 'limit-80', 'cooler-room', 'half-the-hours', 'bigger-pack']) {
      expect(rows.get(id)?.ratio?.p50, id).toBeGreaterThan(1.005);
    }
    expect(rows.get('limit-80')?.ratio?.p50).toBeGreaterThan(rows.get('limit-90')?.ratio?.p50 ?? 9);
    expect(rows.get('cooler-room')?.ratio?.p05).toBeGreaterThan(1.05);
  });

  test('a lower limit costs run time now; a worn pack runs shorter than a new one', () => {
    const [now, lower] = [rows.get('as-it-is')?.runTime, rows.get('limit-80')?.runTime];
    // 0.9 of 38 Wh at 27 Wh in 6 h.
    expect(now?.now_h).toBeCloseTo((0.9 * 38 * 6) / 27, 9);
    expect(lower?.now_h).toBeCloseTo((0.7 * 38 * 6) / 27, 9);
    expect(now?.afterTwo_h.p50).toBeLessThan(now?.now_h ?? 0);
  });

  test('a price gives a cost per year of the pack that was bought, and of no other', () => {
    const cost = rows.get('as-it-is')?.costPerYear;
    expect(cost?.p50).toBeCloseTo(40 / (rows.get('as-it-is')?.years.p50 ?? 1), 0);
    expect(rows.get('bigger-pack')?.costPerYear).toBeNull();
    expect(rows.get('original-pack')?.costPerYear).toBeNull();
  });
});

// Monthly tests with 0.5 % each: slope 0.2083 % per root of a day, worked outside with Σt of 2340, 9000 and 19980 d.
test.each([
  { ratio: 1.23532, sigmas: [1.43, 2.8, 4.18] },
  { ratio: 1.84676, sigmas: [3.76] },
])('a pack’s own fade shows a life ratio of $ratio after some years only', ({ ratio, sigmas }) => {
  const lossInYear = 0.002083 * Math.sqrt(365);
  const found = tellFadeApart(ratio, lossInYear, 0.005, [1, 2, 3]);
  for (const [i, expected] of sigmas.entries())
    expect(Math.abs((found[i]?.sigmas ?? 0) - expected)).toBeLessThan(0.006);
});

test('ten kelvins all day long: more hours of time, and no more cycles, in closed form', () => {
  const room: DutyYear = { ...duty, room: { monthly_C: [25] } };
  const prepared = prepareLife({ ...base, duty: room, setups: [setup('bare', [20], exact)] });
  if (!prepared.ok) throw new Error(prepared.reason.kind);
  const perDay = ({ temp_K }: { temp_K: number }) => 2e-4 * Math.exp(-6000 * (1 / temp_K - 1 / 298.15));
  const perCycle = 3e-4;
  const member = {
    model: publishedModels[0] as (typeof publishedModels)[number],
    capacity: [
      powerLaw(1, { perDay, knowsTemperature: true }),
      powerLaw(1, { perFullCycle: () => perCycle, knowsTemperature: false }),
    ],
    isOwn: true,
    lentFrom: null,
  };
  const { condensed } = prepared.value;
  const cycled = condensed.cycles.reduce((sum, { count, depth }) => sum + count * depth, 0) * perCycle;
  // Four hours under load and two idle, each share of a day blown up to the whole of it.
  const year = (less_K: number) =>
    (365 / 6) * (4 * perDay({ temp_K: 318.15 - less_K }) + 2 * perDay({ temp_K: 306.15 - less_K })) + cycled;
  const { ifAlways } = weighTenKelvin(prepared.value, [member]);
  expect(ifAlways[0]).toBeCloseTo(year(0) / year(10), 6);
});

test('resistance is that of the hottest cell, wherever it sits', () => {
  const of = (cells: number[]) =>
    forecast({ ...base, setups: [setup('bare', cells)], draws: 80 }).resistance[0]?.afterTwo;
  expect(of([24, 22])).toBeCloseTo(of([24, 24]) ?? 0, 12);
  expect(of([22, 24])).toBeCloseTo(of([24, 24]) ?? 0, 12);
});

test('resistance grows by the models that know it, and more where it is hotter', () => {
  const { resistance } = forecast({
    ...base,
    setups: [setup('bare', [24, 22]), setup('cool', [10, 9])],
    draws: 80,
  });
  const [bare, cool] = resistance;
  expect(resistance.map(({ model }) => model)).toEqual(['schmalstieg-2014', 'schmalstieg-2014']);
  expect(bare?.afterTwo).toBeGreaterThan(cool?.afterTwo ?? 1);
  expect(bare?.atHorizon).toBeGreaterThan(bare?.afterTwo ?? 1);
});
