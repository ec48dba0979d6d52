import { describe, expect, test } from 'vitest';
import {
  boilingPoint_C,
  saturationPressure_MPa,
  saturationTemperature_K,
  standardPressure_hPa,
  stationFromSeaLevel_hPa,
} from './boiling-point.js';

describe('the saturation line', () => {
  // [IAPWS-R7-97] Tables 35 and 36, printed to nine digits; the tolerance is half of the last one.
  test.each([
    { temp_K: 300, printed_MPa: 0.353658941e-2 },
    { temp_K: 500, printed_MPa: 0.263889776e1 },
    { temp_K: 600, printed_MPa: 0.123443146e2 },
  ])('at $temp_K K has the printed $printed_MPa MPa', ({ temp_K, printed_MPa }) => {
    const half = 0.5 * 10 ** (Math.floor(Math.log10(printed_MPa)) - 8);
    expect(Math.abs(saturationPressure_MPa(temp_K) - printed_MPa)).toBeLessThanOrEqual(half);
  });

  test.each([
    { pressure_MPa: 0.1, printed_K: 372.755919 },
    { pressure_MPa: 1, printed_K: 453.035632 },
    { pressure_MPa: 10, printed_K: 584.149488 },
  ])('at $pressure_MPa MPa boils at the printed $printed_K K', ({ pressure_MPa, printed_K }) => {
    expect(Math.abs(saturationTemperature_K(pressure_MPa) - printed_K)).toBeLessThanOrEqual(5e-7);
  });

  // A law: the two equations are exact inverses of each other.
  test('its two forms undo each other', () => {
    for (let temp_K = 273.16; temp_K <= 600; temp_K += 3.7) {
      expect(Math.abs(saturationTemperature_K(saturationPressure_MPa(temp_K)) - temp_K)).toBeLessThan(1e-7);
    }
  });
});

describe('the boiling point', () => {
  // Computed outside the project in Python from [IAPWS-R7-97] Eq. 31 with the release's coefficients.
  test.each([
    { pressure_hPa: 1013.25, boils_C: 99.9743 },
    { pressure_hPa: 1000, boils_C: 99.605919 },
    { pressure_hPa: 950, boils_C: 98.178332 },
    { pressure_hPa: 900, boils_C: 96.687039 },
    { pressure_hPa: 850, boils_C: 95.125334 },
    { pressure_hPa: 800, boils_C: 93.485354 },
    { pressure_hPa: 750, boils_C: 91.757791 },
    { pressure_hPa: 700, boils_C: 89.93151 },
  ])('at $pressure_hPa hPa is $boils_C °C', ({ pressure_hPa, boils_C }) => {
    expect(Math.abs(boilingPoint_C(pressure_hPa) - boils_C)).toBeLessThan(1e-6);
  });

  test.each([Number.NaN, 29.92, 101325])('refuses %d, which is not in hectopascals', (pressure) => {
    expect(() => boilingPoint_C(pressure)).toThrow(/hectopascals/);
  });
});

describe('pressure by altitude', () => {
  // [USSA-76] table IV: geopotential base of the second layer, printed 226.32 mb.
  test('meets the printed base of the next layer', () => {
    expect(Math.abs(standardPressure_hPa(11_000) - 226.3206)).toBeLessThan(1e-3);
  });

  // [USSA-76] table I by geometric altitude Z, printed 898.76 and 540.48 mb; H = r Z / (r + Z), r = 6356.766 km.
  test.each([
    { geometric_m: 1000, printed_hPa: 898.763 },
    { geometric_m: 5000, printed_hPa: 540.483 },
  ])('at $geometric_m m is the printed $printed_hPa hPa', ({ geometric_m, printed_hPa }) => {
    const geopotential_m = (6356766 * geometric_m) / (6356766 + geometric_m);
    expect(Math.abs(standardPressure_hPa(geopotential_m) - printed_hPa)).toBeLessThan(5e-4);
  });

  // Standard-day boiling points, computed outside the project in Python from [USSA-76] and [IAPWS-R7-97].
  test.each([
    { altitude_m: 0, boils_C: 99.9743 },
    { altitude_m: 300, boils_C: 98.9774 },
    { altitude_m: 500, boils_C: 98.3125 },
    { altitude_m: 1000, boils_C: 96.6488 },
    { altitude_m: 1609, boils_C: 94.6196 },
    { altitude_m: 2000, boils_C: 93.3151 },
    { altitude_m: 2500, boils_C: 91.6449 },
    { altitude_m: 3500, boils_C: 88.2971 },
  ])('water boils at $boils_C °C at $altitude_m m on a standard day', ({ altitude_m, boils_C }) => {
    expect(Math.abs(boilingPoint_C(standardPressure_hPa(altitude_m)) - boils_C)).toBeLessThan(5e-5);
  });

  // The International Standard Atmosphere form of the altimeter setting, computed outside the project in Python.
  test.each([
    { qnh_hPa: 1013.25, altitude_m: 300, station_hPa: 977.7258 },
    { qnh_hPa: 1013.25, altitude_m: 1000, station_hPa: 898.7457 },
    { qnh_hPa: 1013.25, altitude_m: 1609, station_hPa: 834.3112 },
    { qnh_hPa: 1013.25, altitude_m: 2500, station_hPa: 746.8253 },
    { qnh_hPa: 1030, altitude_m: 300, station_hPa: 993.9994 },
    { qnh_hPa: 990, altitude_m: 1609, station_hPa: 814.4531 },
    { qnh_hPa: 1020, altitude_m: 500, station_hPa: 961.0405 },
    { qnh_hPa: 1030, altitude_m: 1609, station_hPa: 848.6262 },
    { qnh_hPa: 990, altitude_m: 300, station_hPa: 955.1395 },
    { qnh_hPa: 1008, altitude_m: 1000, station_hPa: 893.9818 },
    { qnh_hPa: 1000, altitude_m: 2500, station_hPa: 736.4789 },
  ])(
    'QNH $qnh_hPa at $altitude_m m is $station_hPa hPa at the kettle',
    ({ qnh_hPa, altitude_m, station_hPa }) => {
      expect(Math.abs(stationFromSeaLevel_hPa(qnh_hPa, altitude_m) - station_hPa)).toBeLessThan(5e-5);
    },
  );

  // [SMITHSONIAN] table 68 form of the altimeter setting, p = (A^n - 1013.25^n 0.0065 H/288)^(1/n) + 0.3, n = 0.190284:
  // another derivation with slightly other constants; the two agree within 0.4 hPa, which is 0.01 K.
  test('agrees with the Smithsonian form', () => {
    const n = 0.190284;
    const smithsonian = (1013.785046 ** n - (1013.25 ** n * 0.0065 * 1609) / 288) ** (1 / n) + 0.3;
    expect(smithsonian).toBeCloseTo(835, 3);
    expect(Math.abs(stationFromSeaLevel_hPa(1013.785046, 1609) - smithsonian)).toBeLessThan(0.4);
  });

  // The trap: a sea-level pressure taken for the pressure at the kettle at 1609 m.
  test('a report’s pressure taken as it stands is 5.35 K wrong at 1609 m', () => {
    const wrong = boilingPoint_C(1013.25) - boilingPoint_C(stationFromSeaLevel_hPa(1013.25, 1609));
    expect(Math.abs(wrong - 5.3547)).toBeLessThan(5e-4);
  });
});
