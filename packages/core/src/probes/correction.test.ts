import { describe, expect, test } from 'vitest';
import { correctedU_K, correctionU_K, correctReading_C, differenceU_K, gainU } from './apply-correction.js';
import { boilingPoint_C, stationFromSeaLevel_hPa } from './boiling-point.js';
import type { Correction } from './correction.js';
import { type CheckReading, fitCorrection, noCorrection } from './fit-correction.js';
import { uncheckedDoubt } from './unchecked-doubt.js';

// [JCGM-100] H.3: eleven readings t and corrections b of a thermometer. The stated doubt is made negligible here, so
// that it is the scatter of the points that decides, as in the example.
const h3 = {
  t: [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511],
  b: [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16],
};

function fitH3(): Correction {
  const points = h3.t.map(
    (t, i): CheckReading => ({
      reference_C: t + (h3.b[i] as number),
      reference_u_K: 0,
      reading_C: t,
      reading_u_K: 1e-5,
      source: `point ${i}`,
    }),
  );
  return fitCorrection('thermometer', 'H.3', points, 'offset-gain', 0);
}

describe('the guide’s thermometer', () => {
  test('has the printed offset and slope at 20 °C', () => {
    const at20_K = correctReading_C(fitH3(), 20) - 20;
    expect(Math.abs(at20_K - -0.1712)).toBeLessThanOrEqual(5e-5); // printed
    expect(Math.abs(fitH3().gain - 1 - 0.00218)).toBeLessThanOrEqual(5e-6); // printed
    expect(at20_K).toBeCloseTo(-0.171203790131, 9); // the same sums with more digits, NumPy 2.4
    expect(fitH3().dof).toBe(9);
  });

  // Readings carry their doubt through the gain, 1.0022, where the guide puts it on the correction: hence 0.3 %.
  test.each([
    { at_C: 20, printed_K: 0.0029, exact_K: 0.00287759783516 },
    { at_C: 30, printed_K: 0.0041, exact_K: 0.00413859575285 },
  ])('is uncertain by the printed $printed_K K at $at_C °C', ({ at_C, printed_K, exact_K }) => {
    const u_K = correctionU_K(fitH3(), at_C);
    expect(Math.abs(u_K - printed_K)).toBeLessThanOrEqual(5e-5);
    expect(Math.abs(u_K / exact_K - 1)).toBeLessThan(0.003);
  });

  // Printed: s(y2) = 0.00067 and, of offset at 20 °C and slope, r = -0.930; the factor of 1.0022 cancels in r.
  test('has a slope and an offset as uncertain and as entangled as printed', () => {
    const { own, pivot_C } = fitH3();
    expect(Math.abs(gainU(fitH3()) - 0.00067)).toBeLessThanOrEqual(5e-6);
    const cross = own.cross + own.gain * (20 - pivot_C);
    const r = cross / Math.sqrt(own.gain * (own.offset + own.gain * (20 - pivot_C) ** 2));
    expect(Math.abs(r - -0.93)).toBeLessThanOrEqual(5e-4);
    expect(r).toBeCloseTo(-0.930429603093, 8); // the same sums with more digits, NumPy 2.4
  });

  test('forgetting the covariance would give 0.0073 K instead of 0.0041 K', () => {
    const { own, gain } = fitH3();
    const atOrigin = { offset: own.offset + own.gain * (20 - fitH3().pivot_C) ** 2, gain: own.gain };
    const without_K = Math.sqrt(atOrigin.offset + atOrigin.gain * 100) / gain;
    expect(without_K).toBeCloseTo(0.00727288, 6);
  });

  // Derived from the same fit: u(b(45) - b(44)) is the slope's doubt times 1 K; as if independent it would be 0.0194 K.
  test('read twice, one kelvin apart, keeps only the slope’s doubt', () => {
    const correction = fitH3();
    const u_K = differenceU_K(correction, 45, correction, 44);
    expect(Math.abs(u_K / 0.000667938773 - 1)).toBeLessThan(0.003);
    const independent_K = Math.hypot(correctionU_K(correction, 45), correctionU_K(correction, 44));
    expect(independent_K / u_K).toBeGreaterThan(28);
  });
});

describe('two probes at room temperature and in boiling water', () => {
  // Worked by hand from f = (R - R_room)/(R_boil - R_room):
  // u² = ((1-f) 0.15)² + (0.10 f)² + 0.05² G² [(1-f)² + f² + 1].
  const boiling_C = boilingPoint_C(stationFromSeaLevel_hPa(1008, 1000));
  const check = (room_C: number, boil_C: number, probe: string) =>
    fitCorrection(
      probe,
      'check',
      [
        { reference_C: 22.4, reference_u_K: 0.15, reading_C: room_C, reading_u_K: 0.05, source: 'check/1' },
        {
          reference_C: boiling_C,
          reference_u_K: 0.1,
          reading_C: boil_C,
          reading_u_K: 0.05,
          source: 'check/2',
        },
      ],
      'offset-gain',
      0.05,
    );
  const p1 = check(22.9, 97.3, 'p1');
  const p2 = check(22.1, 95.85, 'p2');

  test('boil at 96.503 °C', () => expect(boiling_C).toBeCloseTo(96.502936, 5));

  test.each([
    { probe: p1, gain: 0.996007205, offset_K: -0.408564983, at45_C: 44.411759, at46_C: 45.407766 },
    { probe: p2, gain: 1.004785573, offset_K: 0.194238835, at45_C: 45.40959, at46_C: 46.414375 },
  ])('are corrected as by hand: gain $gain', ({ probe, gain, offset_K, at45_C, at46_C }) => {
    expect(probe.gain).toBeCloseTo(gain, 8);
    expect(correctReading_C(probe, 0)).toBeCloseTo(offset_K, 7);
    expect(correctReading_C(probe, 45)).toBeCloseTo(at45_C, 6);
    expect(correctReading_C(probe, 46)).toBeCloseTo(at46_C, 6);
  });

  test.each([
    { probe: p1, u_K: [0.151768, 0.126195, 0.108913], difference_K: 0.002601 },
    { probe: p2, u_K: [0.150392, 0.125011, 0.108372], difference_K: 0.002627 },
  ])(
    'are uncertain as by hand, and a difference read by the same probe hardly at all',
    ({ probe, u_K, difference_K }) => {
      for (const [i, at_C] of [30, 45, 60].entries()) {
        expect(correctedU_K(probe, at_C)).toBeCloseTo(u_K[i] as number, 6);
      }
      expect(differenceU_K(probe, 46, probe, 45)).toBeCloseTo(difference_K, 5);
    },
  );

  test('uncorrected, swapping them fabricates 1 K', () => {
    expect(correctReading_C(p2, 45) - correctReading_C(p1, 45)).toBeCloseTo(0.998, 3);
  });

  test('what the bath puts on both cancels between them', () => {
    const both_K = differenceU_K(p1, 45, p2, 44.2);
    const independent_K = Math.hypot(correctionU_K(p1, 45), correctionU_K(p2, 44.2));
    expect(both_K).toBeLessThan(0.06); // two readings of 0.05 K each, shared out over two points
    expect(independent_K).toBeGreaterThan(0.15);
  });
});

// A law: a bath's own error does not average out over readings taken in it, so reading twice leaves it whole.
// [JCGM-100] F.1.2.3: correlated inputs add as (Σ c_i u_i)², not as Σ (c_i u_i)².
describe('a probe read twice in each bath', () => {
  const reading = (reference_C: number, source: string): CheckReading => ({
    reference_C,
    reference_u_K: 0.1,
    reading_C: reference_C + 0.3,
    reading_u_K: 0, // the readings themselves are exact: only the baths are in doubt
    source,
  });
  const ice = reading(0, 'check/1');
  const boiling = reading(98.5, 'check/2');
  const once = fitCorrection('p', 'check', [ice, boiling], 'offset-gain', 0);
  const twice = fitCorrection('p', 'check', [ice, ice, boiling, boiling], 'offset-gain', 0);

  test.each([0, 45, 98.5])('is as much in doubt at %d °C as one read once', (at_C) => {
    expect(correctionU_K(twice, at_C)).toBeCloseTo(correctionU_K(once, at_C), 12);
  });

  test('and at the baths’ own temperatures by exactly what they are in doubt', () => {
    expect(correctionU_K(twice, 0.3)).toBeCloseTo(0.1, 12);
    expect(correctionU_K(twice, 98.8)).toBeCloseTo(0.1, 12);
  });

  test('the shared doubt still cancels against a probe that was read once', () => {
    expect(differenceU_K(twice, 45, { ...once, probe: 'q' }, 45)).toBeCloseTo(0, 7);
  });
});

describe('thin checks', () => {
  const point = (reference_C: number, reading_C: number): CheckReading => ({
    reference_C,
    reference_u_K: 0.1,
    reading_C,
    reading_u_K: 0.05,
    source: `bath ${reference_C}`,
  });

  test('one point gives an offset, whatever was asked for', () => {
    const correction = fitCorrection('p', 'c', [point(0, 0.8)], 'offset-gain', 0);
    expect(correction.model).toBe('offset');
    expect(correctReading_C(correction, 50)).toBeCloseTo(49.2, 10);
  });

  test('two points 3 K apart do not carry a gain', () => {
    expect(fitCorrection('p', 'c', [point(20, 20.1), point(23, 23.4)], 'offset-gain', 0).model).toBe(
      'offset',
    );
  });

  test('points that disagree more than they say widen the doubt', () => {
    const calm = fitCorrection('p', 'c', [point(0, 0.8), point(50, 50.8), point(100, 100.8)], 'offset', 0);
    const torn = fitCorrection('p', 'c', [point(0, 0.1), point(50, 50.8), point(100, 101.5)], 'offset', 0);
    expect(correctionU_K(torn, 50)).toBeGreaterThan(3 * correctionU_K(calm, 50));
  });

  // The doubt of the doubt comes from the scatter of the points only where that is what decides.
  test('rests on few points only where their scatter speaks', () => {
    const calm = fitCorrection('p', 'c', [point(0, 0.8), point(50, 50.8), point(100, 100.8)], 'offset', 0);
    const torn = fitCorrection('p', 'c', [point(0, 0.1), point(50, 50.8), point(100, 101.5)], 'offset', 0);
    expect([calm.dof, torn.dof]).toEqual([null, 2]);
  });

  test('an unchecked probe keeps its maker’s doubt, and none of it in its own differences', () => {
    const unchecked = noCorrection('p', uncheckedDoubt({}), 0);
    expect(correctionU_K(unchecked, 40)).toBeCloseTo(0.8660254, 6); // [IEC-60584-1] class 1 type K, 1.5/√3
    expect(differenceU_K(unchecked, 40, unchecked, 41)).toBe(0);
    // Two different unchecked probes: √2 times that; a difference of 1 K between them proves nothing.
    expect(differenceU_K(unchecked, 40, noCorrection('q', uncheckedDoubt({}), 0), 41)).toBeCloseTo(
      1.2247449,
      6,
    );
  });
});
