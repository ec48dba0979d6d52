import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Attitude, naturalConvection, plateLength_mm, uprightNusselt } from './natural-convection.js';
import { faceLoss, type OutsideFace, surfaceTemperature_C } from './outside-film.js';
import { findPlacement, placements } from './placements.js';

const attitudes: readonly Attitude[] = ['upright', 'face-up', 'face-down'];

describe('natural convection', () => {
  // The three laws with the properties of `airAt` at film temperature, computed outside the project in Python; half of the last digit.
  test.each([
    {
      surface_C: 30,
      air_C: 25,
      width_mm: 100,
      height_mm: 100,
      upright: 3.548,
      up: 5.22,
      older: 2.61,
      newer: 3.222,
    },
    {
      surface_C: 35,
      air_C: 25,
      width_mm: 100,
      height_mm: 100,
      upright: 4.241,
      up: 6.192,
      older: 3.096,
      newer: 3.699,
    },
    {
      surface_C: 40,
      air_C: 25,
      width_mm: 100,
      height_mm: 100,
      upright: 4.71,
      up: 6.836,
      older: 3.418,
      newer: 4.009,
    },
    {
      surface_C: 40,
      air_C: 25,
      width_mm: 60,
      height_mm: 90,
      upright: 4.81,
      up: 7.421,
      older: 3.71,
      newer: 4.572,
    },
    {
      surface_C: 45,
      air_C: 25,
      width_mm: 100,
      height_mm: 100,
      upright: 5.073,
      up: 7.327,
      older: 3.664,
      newer: 4.244,
    },
    {
      surface_C: 50,
      air_C: 35,
      width_mm: 100,
      height_mm: 100,
      upright: 4.651,
      up: 6.769,
      older: 3.385,
      newer: 4,
    },
  ])('of $width_mm mm by $height_mm mm at $surface_C °C in $air_C °C', (row) => {
    const h = (attitude: Attitude, law?: 'newer' | 'older') => {
      const length_mm = plateLength_mm(attitude, row.width_mm, row.height_mm);
      return naturalConvection(attitude, length_mm, row.surface_C, row.air_C, law).h_W_per_m2K;
    };
    expect(Math.abs(h('upright') - row.upright)).toBeLessThanOrEqual(5e-4);
    expect(Math.abs(h('face-up') - row.up)).toBeLessThanOrEqual(5.1e-4);
    expect(Math.abs(h('face-down', 'older') - row.older)).toBeLessThanOrEqual(5e-4);
    expect(Math.abs(h('face-down', 'newer') - row.newer)).toBeLessThanOrEqual(5e-4);
  });

  // [INCROPERA] Example 9.2 prints 147, [CENGEL] exercise 9-19E prints 102.6; half of the last printed digit.
  test.each([
    { rayleigh: 0.69 * 2.63e9, prandtl: 0.69, printed: 147, half: 0.5 },
    { rayleigh: 5.503e8, prandtl: 0.7256, printed: 102.6, half: 0.05 },
  ])(
    'of an upright plate has the printed Nusselt number $printed',
    ({ rayleigh, prandtl, printed, half }) => {
      expect(Math.abs(uprightNusselt(rayleigh, prandtl) - printed)).toBeLessThanOrEqual(half);
    },
  );

  // [CENGEL] a plate of 0.6 m by 0.6 m at 90 °C in air of 30 °C: 115, 128 and 64.2 W, from memory and recomputed with the properties of
  // its tables as 114.58, 128.38 and 64.19 W. Its properties and ours differ by up to 2 %.
  test('of a large plate agrees with a worked exercise', () => {
    const { h_W_per_m2K, rayleigh } = naturalConvection('upright', 600, 90, 30);
    expect(Math.abs(h_W_per_m2K / (114.58 / 0.36 / 60) - 1)).toBeLessThan(0.02);
    expect(Math.abs(rayleigh / 7.649e8 - 1)).toBeLessThan(0.03);
    const up = naturalConvection('face-up', plateLength_mm('face-up', 600, 600), 90, 30);
    const down = naturalConvection('face-down', plateLength_mm('face-down', 600, 600), 90, 30, 'older');
    expect(Math.abs(up.h_W_per_m2K / (128.38 / 0.36 / 60) - 1)).toBeLessThan(0.02);
    expect(Math.abs(down.h_W_per_m2K / (64.19 / 0.36 / 60) - 1)).toBeLessThan(0.02);
  });

  test('says where its law is extended', () => {
    expect(naturalConvection('face-up', 25, 40, 25).inRange).toBe(true);
    expect(naturalConvection('face-up', 18, 40, 25).inRange).toBe(false);
    expect(naturalConvection('face-down', 25, 40, 25, 'older').inRange).toBe(false);
    expect(naturalConvection('upright', 90, 40, 25).inRange).toBe(true);
  });

  // Symmetry: a face colder than the air is a warm face turned over, apart from the properties at film temperature, here the same.
  test('turns a cold face over', () => {
    const cold = naturalConvection('face-up', 25, 20, 40);
    const warm = naturalConvection('face-down', 25, 40, 20);
    expect(cold.h_W_per_m2K).toBeCloseTo(warm.h_W_per_m2K, 12);
  });
});

describe('a face’s energy balance', () => {
  const plain: OutsideFace = { convection: { kind: 'fixed', h_W_per_m2K: 5 }, emissivity: 0.9 };

  // Root of h (T - Ta) + e sigma (T⁴ - Ta⁴) = q by SciPy's brentq to 1e-13; half of the last digit.
  test.each([
    { flux: 100, surface_C: 34.371424, h: 10.670736 },
    { flux: 200, surface_C: 43.299823, h: 10.929068 },
    { flux: 300, surface_C: 51.821415, h: 11.185092 },
  ])('$flux W/m² leave at $surface_C °C', ({ flux, surface_C, h }) => {
    const found_C = surfaceTemperature_C(plain, flux, 25);
    expect(Math.abs(found_C - surface_C)).toBeLessThanOrEqual(5.1e-7);
    expect(Math.abs(faceLoss(plain, found_C, 25).h_W_per_m2K - h)).toBeLessThanOrEqual(5.1e-7);
  });

  // [CENGEL] chapter on natural convection, a circuit board of 0.03 m² with 8 W, h 6.696 and emissivity 0.8 in 20 °C: 42.6 °C printed.
  test('a printed board is as warm as the book says', () => {
    const board: OutsideFace = { convection: { kind: 'fixed', h_W_per_m2K: 6.696 }, emissivity: 0.8 };
    expect(Math.abs(surfaceTemperature_C(board, 8 / 0.03, 20) - 42.6)).toBeLessThanOrEqual(0.05);
  });

  // e sigma (Ts² + Ta²) (Ts + Ta) by hand; half of the last digit.
  test.each([
    { surface_C: 30, air_C: 25, plastic: 5.548, bright: 0.308 },
    { surface_C: 35, air_C: 25, plastic: 5.689, bright: 0.316 },
    { surface_C: 40, air_C: 25, plastic: 5.832, bright: 0.324 },
    { surface_C: 45, air_C: 25, plastic: 5.979, bright: 0.332 },
    { surface_C: 50, air_C: 35, plastic: 6.424, bright: 0.357 },
  ])('radiation at $surface_C °C in $air_C °C', ({ surface_C, air_C, plastic, bright }) => {
    const h = (emissivity: number) =>
      faceLoss({ convection: { kind: 'fixed', h_W_per_m2K: 0 }, emissivity }, surface_C, air_C).h_W_per_m2K;
    expect(Math.abs(h(0.9) - plastic)).toBeLessThanOrEqual(5.1e-4);
    expect(Math.abs(h(0.05) - bright)).toBeLessThanOrEqual(5.1e-4);
  });

  // A law: walls that are not as warm as the air take up their own share; a face at the temperature of both loses nothing.
  test('radiates to the walls and convects to the air', () => {
    const face: OutsideFace = { ...plain, surroundings_C: 15 };
    const { convection_W_per_m2, radiation_W_per_m2 } = faceLoss(face, 25, 25);
    expect(convection_W_per_m2).toBe(0);
    expect(radiation_W_per_m2).toBeCloseTo(0.9 * 5.670374419e-8 * (298.15 ** 4 - 288.15 ** 4), 10);
    expect(faceLoss(plain, 25, 25).flux_W_per_m2).toBe(0);
  });

  // A law: the slope is that of the flux. Central differences over 2e-4 K; the flux is some 100 W/m², its rounding some 1e-14.
  test('its slope is that of its flux', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...attitudes),
        fc.double({ min: 20, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: -15, max: 60, noNaN: true }).filter((difference) => Math.abs(difference) > 0.1),
        (attitude, length_mm, emissivity, difference_K) => {
          const face: OutsideFace = {
            convection: { kind: 'natural', attitude, length_mm, factor: 1.3 },
            emissivity,
          };
          const flux = (surface_C: number) => faceLoss(face, surface_C, 25).flux_W_per_m2;
          const numeric = (flux(25 + difference_K + 1e-4) - flux(25 + difference_K - 1e-4)) / 2e-4;
          const { slope_W_per_m2K } = faceLoss(face, 25 + difference_K, 25);
          expect(Math.abs(slope_W_per_m2K / numeric - 1)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  // A law: solving and evaluating undo each other, also where the face takes heat up.
  test('undoes itself', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...attitudes),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: -80, max: 600, noNaN: true }),
        (attitude, emissivity, flux) => {
          const face: OutsideFace = { convection: { kind: 'natural', attitude, length_mm: 50 }, emissivity };
          const surface_C = surfaceTemperature_C(face, flux, 25);
          fc.pre(surface_C > -49 && surface_C < 199);
          expect(Math.abs(faceLoss(face, surface_C, 25).flux_W_per_m2 - flux)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  test('a face at the air’s temperature loses nothing and does not divide by it', () => {
    for (const attitude of attitudes) {
      const face: OutsideFace = { convection: { kind: 'natural', attitude, length_mm: 50 }, emissivity: 0.9 };
      const loss = faceLoss(face, 25, 25);
      expect(loss.flux_W_per_m2).toBe(0);
      expect(loss.h_W_per_m2K).toBeGreaterThan(5);
    }
  });

  test.each([-0.1, 1.1, Number.NaN])('refuses an emissivity of %d', (emissivity) => {
    expect(() => faceLoss({ ...plain, emissivity }, 40, 25)).toThrow(/emissivity/);
  });
});

describe('placements', () => {
  const size = { width_mm: 60, height_mm: 90 };

  // [INCROPERA] table 4.1, from memory: a disc at one temperature on a half space passes 2 D k. A footprint counts as the disc of its area.
  const halfSpace = (k_W_per_mK: number) => {
    const area_m2 = 0.06 * 0.09;
    return (2 * Math.sqrt((4 * area_m2) / Math.PI) * k_W_per_mK) / area_m2;
  };

  test('wood under a device lies within the spread of lying on a table, padding within that of a cloth', () => {
    for (const { id, k_W_per_mK } of [
      { id: 'on-table', k_W_per_mK: 0.15 },
      { id: 'on-cloth', k_W_per_mK: 0.05 },
    ]) {
      const placement = findPlacement(id);
      const face = placement?.makeFace(size, 0.9);
      const h = face === undefined ? Number.NaN : faceLoss(face, 40, 25).h_W_per_m2K;
      expect(Math.abs(Math.log(h / halfSpace(k_W_per_mK)))).toBeLessThan(placement?.spread ?? 0);
    }
  });

  test('what is assumed says so, and has the wider spread', () => {
    for (const { assumed, spread } of placements) expect(spread > 0.3).toBe(assumed);
  });

  test('a held face draws towards the palm, not the room', () => {
    const face = findPlacement('in-hand')?.makeFace(size, 0.9);
    expect(face && faceLoss(face, 34, 25).flux_W_per_m2).toBe(0);
  });
});
