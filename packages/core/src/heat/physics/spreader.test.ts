import { describe, expect, test } from 'vitest';
import { solveLayeredStack } from './layered-series.js';
import { riseAlong, type Spreader, spreadingLength_mm, stripEfficiency } from './spreader.js';

describe('a fin whose tip loses nothing', () => {
  // [INCROPERA] problem 3.116: a blade of perimeter 0.11 m, section 6e-4 m², k 20, 50 mm, h 250, foot at 300 and gas at 1200 °C: tip at
  // 1037 °C, 508 W. As a sheet it is 6e-4 / 0.11 m thick and loses on all of its perimeter. Half of the last printed digit.
  const blade: Spreader = { thickness_mm: (6e-4 / 0.11) * 1000, kInPlane_W_per_mK: 20, loss_W_per_m2K: 250 };

  test('a turbine blade is as warm as the book says', () => {
    const spreading_mm = spreadingLength_mm(blade);
    expect(50 / spreading_mm).toBeCloseTo(2.39357, 5);
    const tip_C = 1200 + (300 - 1200) * riseAlong(50, 50, spreading_mm);
    expect(Math.abs(tip_C - 1037)).toBeLessThanOrEqual(0.5);
    const heat_W = stripEfficiency(50, spreading_mm) * 250 * 0.11 * 0.05 * (300 - 1200);
    expect(Math.abs(heat_W + 508)).toBeLessThanOrEqual(0.5);
  });

  // A rod of 3 mm, 30 mm long, k 15, h 10, foot at 120 and air at 20 °C: tip at 90.058 °C by hand (cosh 0.894427). D/4 stands for t.
  test('a rod too', () => {
    const spreading_mm = spreadingLength_mm({
      thickness_mm: 0.75,
      kInPlane_W_per_mK: 15,
      loss_W_per_m2K: 10,
    });
    expect(20 + 100 * riseAlong(30, 30, spreading_mm)).toBeCloseTo(90.058, 4);
  });

  test('a very long strip does not overflow', () => {
    expect(riseAlong(1e5, 1e5, 1)).toBe(0);
    expect(riseAlong(2, 1e5, 1)).toBeCloseTo(Math.exp(-2), 15);
    expect(stripEfficiency(1e5, 1)).toBeCloseTo(1e-5, 15);
  });
});

describe('the spreading length', () => {
  // By hand, sqrt(k t / h); half of the last digit.
  test.each([
    { name: 'aluminium 1050, 0.5 mm', thickness_mm: 0.5, k: 222, at: [105.4, 74.5, 47.1] },
    { name: 'copper, 0.1 mm', thickness_mm: 0.1, k: 390, at: [62.4, 44.2, 27.9] },
    { name: 'graphite, 25 µm', thickness_mm: 0.025, k: 1600, at: [63.2, 44.7, 28.3] },
    { name: 'bare board, 1 mm', thickness_mm: 1, k: 1.06, at: [10.3, 7.3, 4.6] },
    { name: 'plastic shell, 2 mm', thickness_mm: 2, k: 0.2, at: [6.3, 4.5, 2.8] },
  ])('of $name', ({ thickness_mm, k, at }) => {
    for (const [i, loss_W_per_m2K] of [10, 20, 50].entries()) {
      const length = spreadingLength_mm({ thickness_mm, kInPlane_W_per_mK: k, loss_W_per_m2K });
      expect(Math.abs(length - (at[i] ?? Number.NaN))).toBeLessThanOrEqual(0.05);
    }
  });

  test.each([0, -1, Number.NaN])('refuses a thickness of %d', (thickness_mm) => {
    expect(() => spreadingLength_mm({ thickness_mm, kInPlane_W_per_mK: 222, loss_W_per_m2K: 10 })).toThrow(
      /above 0/,
    );
  });
});

// The series for a thin plate heated along one whole edge is a fin: two routes to one profile. The heated strip is 1 mm wide, so the
// foot is not sharp; beyond it the profile is that of the fin, to the (h t / k) of a thin fin, 2e-5 here.
test('the exact series of a plate heated along an edge falls off as a fin', () => {
  const plate = {
    width_mm: 90,
    height_mm: 60,
    layers: [{ thickness_mm: 0.5, kx_W_per_mK: 222, ky_W_per_mK: 222, kz_W_per_mK: 222 }],
    topFilm_W_per_m2K: 0,
    bottomFilm_W_per_m2K: 10,
    sources: [{ plane: 0, centre_mm: [0.5, 30] as const, size_mm: [1, 60] as const, power_W: 1 }],
  };
  const spreading_mm = spreadingLength_mm({ thickness_mm: 0.5, kInPlane_W_per_mK: 222, loss_W_per_m2K: 10 });
  const rises = solveLayeredStack(
    plate,
    [10, 50, 90].map((x) => ({ kind: 'point', plane: 1, at_mm: [x, 30] }) as const),
  ).rises.map(({ rise_K }) => rise_K) as [number, number, number];
  const fin = (x: number) => riseAlong(x - 10, 80, spreading_mm);
  expect(Math.abs(rises[1] / rises[0] / fin(50) - 1)).toBeLessThan(5e-5);
  expect(Math.abs(rises[2] / rises[0] / fin(90) - 1)).toBeLessThan(5e-5);
});

// [LEE-95] the usual approximation for a source on a plate, from memory; good to some 15 % of the spreading part, so that is all it is asked.
test('the series lies within the band of a well-known approximation', () => {
  const approximate = (a: number, b: number, t: number, k: number, c: number, h: number) => {
    const [r1, r2] = [Math.sqrt((c * c) / Math.PI), Math.sqrt((a * b) / Math.PI)];
    const [eps, tau, biot] = [r1 / r2, t / r2, (h * r2) / k];
    const lambda = Math.PI + 1 / (eps * Math.sqrt(Math.PI));
    const tanh = Math.tanh(lambda * tau);
    const phi = (tanh + lambda / biot) / (1 + (lambda / biot) * tanh);
    return (0.5 * (1 - eps) ** 1.5 * phi) / (k * Math.sqrt(Math.PI) * r1);
  };
  for (const [a, b, t, k, c, h] of [
    [100, 100, 5, 200, 20, 50],
    [90, 60, 0.5, 222, 12, 10],
    [100, 100, 1.3, 200, 25, 100],
    [90, 60, 2, 0.2, 12, 10],
  ] as const) {
    const answer = solveLayeredStack(
      {
        width_mm: a,
        height_mm: b,
        layers: [{ thickness_mm: t, kx_W_per_mK: k, ky_W_per_mK: k, kz_W_per_mK: k }],
        topFilm_W_per_m2K: 0,
        bottomFilm_W_per_m2K: h,
        sources: [{ plane: 0, centre_mm: [a / 2, b / 2], size_mm: [c, c], power_W: 1 }],
      },
      [
        { kind: 'patch', plane: 0, centre_mm: [a / 2, b / 2], size_mm: [c, c] },
        { kind: 'plane', plane: 0 },
      ],
    );
    const [patch, mean] = answer.rises.map(({ rise_K }) => rise_K) as [number, number];
    const rough = approximate(a / 1000, b / 1000, t / 1000, k, c / 1000, h);
    expect(Math.abs(rough / (patch - mean) - 1)).toBeLessThan(0.15);
  }
});
