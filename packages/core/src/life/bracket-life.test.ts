import { describe, expect, test } from 'vitest';
import { ageingFactor, ageingHours, ageingModels, bracketLife } from './bracket-life.js';

describe('ageing with temperature', () => {
  // Arithmetic of exp(E/R (1/Ta - 1/Tb)) done outside in Python with R = 8.314 J/(mol K); the exact R moves it by 1e-4.
  // An independent published ledger on lithium-ion claims states 3.55 for 50 kJ/mol from 25 to 45 °C, and 1.92 from 25 to 35 °C.
  test.each([
    { energy: 20, from_C: 25, to_C: 35, times: 1.29931 },
    { energy: 50, from_C: 25, to_C: 35, times: 1.92433 },
    { energy: 50, from_C: 25, to_C: 45, times: 3.55378 },
    { energy: 60, from_C: 30, to_C: 40, times: 2.13872 },
    { energy: 80, from_C: 40, to_C: 50, times: 2.58797 },
  ])('$energy kJ/mol from $from_C to $to_C °C is $times times', ({ energy, from_C, to_C, times }) => {
    expect(Math.abs(ageingFactor(energy, from_C, to_C) / times - 1)).toBeLessThan(2e-4);
  });

  // The rule of thumb "twice per 10 °C" holds exactly at these energies only; solved outside with R = 8.314.
  test.each([
    { energy: 52.94592, from_C: 25 },
    { energy: 56.49755, from_C: 35 },
  ])('doubles in 10 K from $from_C °C at $energy kJ/mol', ({ energy, from_C }) => {
    expect(Math.abs(ageingFactor(energy, from_C, from_C + 10) - 2)).toBeLessThan(2e-4);
  });

  // Loss at equal time and time to equal loss are two factors: life over 30 to 40 °C, from each paper's k and exponent.
  test.each([
    { model: 'LFP/graphite, calendar', life: 1.54338 },
    { model: 'NMC+LMO/graphite, calendar', life: 1.86048 },
    { model: 'LFP/graphite, cycling at C/2', life: 2.06678 },
    { model: 'NMC pouch, calendar', life: 2.45184 },
    { model: 'NMC/graphite, calendar', life: 2.66391 },
  ])('$model: life shrinks $life times from 30 to 40 °C', ({ model, life }) => {
    const entry = ageingModels.find((candidate) => candidate.model === model);
    if (entry === undefined) throw new Error(model);
    expect(Math.abs(ageingFactor(entry.activation_kJ_per_mol, 30, 40) / life - 1)).toBeLessThan(3e-4);
  });
});

describe('a cooler pack, hot only part of the day', () => {
  // G = (h A(25→45) + 24 - h) / (h A(25→35) + 24 - h), worked outside with R = 8.314.
  test.each([
    { energy: 35, hours: 1, gain: 1.0345 },
    { energy: 50, hours: 4, gain: 1.23532 },
    { energy: 50, hours: 8, gain: 1.41522 },
    { energy: 60, hours: 12, gain: 1.74718 },
    { energy: 80, hours: 24, gain: 2.66843 },
  ])(
    '$hours h a day at 45 instead of 35 °C: $gain times longer at $energy kJ/mol',
    ({ energy, hours, gain }) => {
      const duty = { load_h_per_day: hours, idle_h_per_day: 0, ambient_C: 25, rest_C: 25 };
      const ratio =
        ageingHours(energy, duty, { load_K: 20, idle_K: 0 }) /
        ageingHours(energy, duty, { load_K: 10, idle_K: 0 });
      expect(Math.abs(ratio / gain - 1)).toBeLessThan(3e-4);
    },
  );
});

// A law: where heat does nothing, a day ages a cell by its 24 hours, whatever they are spent on.
test('all hours of a day count, and each once', () => {
  const duty = { load_h_per_day: 3, idle_h_per_day: 5, ambient_C: 25, rest_C: 20 };
  expect(ageingHours(0, duty, { load_K: 20, idle_K: 8 })).toBe(24);
  expect(ageingHours(50, duty, { load_K: -5, idle_K: -5 })).toBeCloseTo(24, 12); // always at the resting temperature
});

describe('the bracket', () => {
  const duty = { load_h_per_day: 4, idle_h_per_day: 2, ambient_C: 25, rest_C: 22 };
  const bare = { setup: 'bare', load_K: 24, idle_K: 8, cooler95_K: [0, 0] as const };
  const plate = { setup: 'plate', load_K: 21, idle_K: 7, cooler95_K: [2, 4] as const };

  test('spans the published energies, and more with the temperatures’ own doubt', () => {
    const row = bracketLife(duty, bare, [plate]).rows[1];
    if (row === undefined) throw new Error('no row');
    expect(row.factor[0]).toBeGreaterThan(1);
    expect(row.factor[1]).toBeGreaterThan(row.factor[0]);
    expect(row.factor95[0]).toBeLessThan(row.factor[0]);
    expect(row.factor95[1]).toBeGreaterThan(row.factor[1]);
    expect(row.byModel).toHaveLength(ageingModels.length);
  });

  test('the baseline against itself is one', () => {
    expect(bracketLife(duty, bare, []).rows[0]?.factor).toEqual([1, 1]);
  });

  test('a day of more than 24 hours is refused', () => {
    expect(() => bracketLife({ ...duty, load_h_per_day: 20, idle_h_per_day: 6 }, bare, [])).toThrow(
      /24 hours/,
    );
  });
});
