/** The upper fixed point of a probe check: water boiling at the pressure of the room. */
import {
  celsiusFromKelvin,
  hectopascalFromPascal,
  megapascalFromHectopascal,
  metreFromMillimetre,
  OutOfRangeError,
} from '../measure/index.js';

/** Coefficients n1 to n10 of the saturation line. @source [IAPWS-R7-97] Table 34 */
const n1 = 0.11670521452767e4;
const n2 = -0.72421316703206e6;
const n3 = -0.17073846940092e2;
const n4 = 0.1202082470247e5;
const n5 = -0.32325550322333e7;
const n6 = 0.1491510861353e2;
const n7 = -0.48232657361591e4;
const n8 = 0.40511340542057e6;
const n9 = -0.23855557567849;
const n10 = 0.65017534844798e3;

/**
 * Pressure at which water boils at a temperature.
 *
 * @param temp_K 273.15 to 647.096 K
 * @returns saturation pressure, MPa
 * @throws OutOfRangeError outside that range
 * @source [IAPWS-R7-97] Eq. 30
 */
export function saturationPressure_MPa(temp_K: number): number {
  if (!(temp_K >= 273.15 && temp_K <= 647.096)) {
    throw new OutOfRangeError('temp_K', temp_K, [273.15, 647.096], 'Is it in kelvins?');
  }
  const theta = temp_K + n9 / (temp_K - n10);
  const a = theta * theta + n1 * theta + n2;
  const b = n3 * theta * theta + n4 * theta + n5;
  const c = n6 * theta * theta + n7 * theta + n8;
  return ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4;
}

/**
 * Temperature at which water boils at a pressure: the exact inverse of `saturationPressure_MPa`.
 *
 * @param pressure_MPa 611.213e-6 to 22.064 MPa
 * @throws OutOfRangeError outside that range
 * @source [IAPWS-R7-97] Eq. 31
 */
export function saturationTemperature_K(pressure_MPa: number): number {
  if (!(pressure_MPa >= 611.213e-6 && pressure_MPa <= 22.064)) {
    throw new OutOfRangeError('pressure_MPa', pressure_MPa, [611.213e-6, 22.064], 'Is it in megapascals?');
  }
  const beta = pressure_MPa ** 0.25;
  const e = beta * beta + n3 * beta + n6;
  const f = n1 * beta * beta + n4 * beta + n7;
  const g = n2 * beta * beta + n5 * beta + n8;
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g));
  return (n10 + d - Math.sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2;
}

/**
 * Boiling point of pure water at the pressure of the room.
 *
 * Needs the pressure at the kettle. A weather report gives it reduced to sea level, which at 500 m altitude puts the
 * answer 1.7 °C too high: pass that through `stationFromSeaLevel_hPa` first. Salt and scale are not modelled.
 *
 * @param pressure_hPa absolute air pressure, 500 to 1100 hPa
 * @returns temperature in °C; 99.974 at 1013.25 hPa
 * @throws OutOfRangeError outside that range
 * @source [IAPWS-R7-97] Eq. 31
 */
export function boilingPoint_C(pressure_hPa: number): number {
  if (!(pressure_hPa >= 500 && pressure_hPa <= 1100)) {
    throw new OutOfRangeError('pressure_hPa', pressure_hPa, [500, 1100], 'Is it in hectopascals?');
  }
  return celsiusFromKelvin(saturationTemperature_K(megapascalFromHectopascal(pressure_hPa)));
}

/** Density of water at its boiling point, kg/m³. @source [IAPWS-R7-97] saturated liquid at 373.15 K, from memory */
const boilingWater_kg_per_m3 = 958.4;
const standardGravity_m_per_s2 = 9.80665;

/**
 * Pressure that the water above a probe adds: 5 cm raise the boiling point by 0.13 K.
 *
 * @param depth_mm how deep the probe hangs, 0 to 500 mm
 * @throws OutOfRangeError outside that range
 * @source derived here: ρ g h
 */
export function waterHead_hPa(depth_mm: number): number {
  if (!(depth_mm >= 0 && depth_mm <= 500)) {
    throw new OutOfRangeError('depth_mm', depth_mm, [0, 500], 'Is it in millimetres?');
  }
  return hectopascalFromPascal(
    boilingWater_kg_per_m3 * standardGravity_m_per_s2 * metreFromMillimetre(depth_mm),
  );
}

/** Ebullioscopic constant of water, K·kg/mol; molar mass of common salt, g/mol; ions of one unit. @source [CRC-HANDBOOK] from memory */
const ebullioscopic_K_kg_per_mol = 0.512;
const salt_g_per_mol = 58.443;
const saltIons = 2;

/**
 * Rise of the boiling point by common salt, taken as fully split into its ions: 0.18 K for 10 g in a kilogram.
 *
 * @param salt_g_per_kg 0 to 100 g per kg of water; real solutions stay some per cent below
 * @throws OutOfRangeError outside that range
 */
export function saltRise_K(salt_g_per_kg: number): number {
  if (!(salt_g_per_kg >= 0 && salt_g_per_kg <= 100)) {
    throw new OutOfRangeError(
      'salt_g_per_kg',
      salt_g_per_kg,
      [0, 100],
      'Is it in grams per kilogram of water?',
    );
  }
  return (ebullioscopic_K_kg_per_mol * saltIons * salt_g_per_kg) / salt_g_per_mol;
}

/** Constants of the lowest layer. @source [USSA-76] tables 1 and 2, equal to ISO 2533 */
const seaLevel_Pa = 101325;
const seaLevel_K = 288.15;
const lapse_K_per_m = 0.0065;
const exponent = (9.80665 * 28.9644) / (8314.32 * lapse_K_per_m);

/**
 * Pressure on a standard day, for where no barometer and no report is at hand. Real days differ by some 10 hPa (0.3 K).
 *
 * @param altitude_m geopotential metres, -500 to 11 000; below 5 km a map's metres differ by under 0.01 K in the boiling point
 * @source [USSA-76] Eq. 33a
 */
export function standardPressure_hPa(altitude_m: number): number {
  if (!(altitude_m >= -500 && altitude_m <= 11_000)) {
    throw new OutOfRangeError('altitude_m', altitude_m, [-500, 11_000], 'Is it in metres?');
  }
  return hectopascalFromPascal(seaLevel_Pa * (1 - (lapse_K_per_m * altitude_m) / seaLevel_K) ** exponent);
}

/**
 * Pressure at the kettle from the altimeter setting (QNH) that airfields and weather reports give.
 *
 * A mean-sea-level pressure reduced with the day's own temperature is a third quantity; it agrees within some 3 hPa (0.1 K).
 *
 * @param seaLevel_hPa 850 to 1100 hPa
 * @param altitude_m metres above sea level, -430 to 5000
 * @source [ICAO-7488] standard atmosphere, as [USSA-76] Eq. 33a solved for the pressure altitude and applied again
 */
export function stationFromSeaLevel_hPa(seaLevel_hPa: number, altitude_m: number): number {
  if (!(seaLevel_hPa >= 850 && seaLevel_hPa <= 1100)) {
    throw new OutOfRangeError('seaLevel_hPa', seaLevel_hPa, [850, 1100], 'Is it in hectopascals?');
  }
  if (!(altitude_m >= -430 && altitude_m <= 5000)) {
    throw new OutOfRangeError('altitude_m', altitude_m, [-430, 5000], 'Is it in metres?');
  }
  const power = 1 / exponent;
  const standard = hectopascalFromPascal(seaLevel_Pa) ** power;
  return (seaLevel_hPa ** power - (standard * lapse_K_per_m * altitude_m) / seaLevel_K) ** exponent;
}
