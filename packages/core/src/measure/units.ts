/** Endings a field name may carry, and nothing else: the unit of a number that crosses a boundary is in its name. */
export const unitEndings = [
  'C',
  'K',
  'mm',
  's',
  'h',
  'h_per_day',
  'days_per_week',
  'weeks_per_year',
  'mAh',
  'V',
  'mV',
  'ohm',
  'mohm',
  'Wh',
  'W',
  'K_per_W',
  'per_K',
  'g',
  'hPa',
  'm',
  'K_per_h',
  'kJ_per_mol',
  'g_per_kg',
  'W_per_mK',
  'W_per_m2',
  'W_per_m2K',
  'W_per_K',
  'm2K_per_W',
  'kg_per_m2',
  'kg_per_m3',
  'J_per_kgK',
  'm2_per_s',
  'Pa_s',
  'A',
  'mV_per_K',
  'J_per_K',
] as const;

/** The ice point in kelvins. @source [SI-2019] definition of the degree Celsius */
export const zeroCelsius_K = 273.15;

export function kelvinFromCelsius(t_C: number): number {
  return t_C + zeroCelsius_K;
}

export function celsiusFromKelvin(t_K: number): number {
  return t_K - zeroCelsius_K;
}

/** @source [SI-2019] with the definition of the degree Fahrenheit, t_F = 1.8 t_C + 32, in [NIST-SP811] B.9 */
export function celsiusFromFahrenheit(t_F: number): number {
  return (t_F - 32) / 1.8;
}

export function megapascalFromHectopascal(p_hPa: number): number {
  return p_hPa * 1e-4;
}

export function metreFromMillimetre(length_mm: number): number {
  return length_mm * 1e-3;
}

export function millimetreFromMetre(length_m: number): number {
  return length_m * 1e3;
}

export function voltsFromMillivolts(signal_mV: number): number {
  return signal_mV * 1e-3;
}

export function hectopascalFromPascal(p_Pa: number): number {
  return p_Pa * 1e-2;
}

export function millivoltsFromMicrovolts(signal_uV: number): number {
  return signal_uV * 1e-3;
}

export function ohmsFromKilohms(resistance_kohm: number): number {
  return resistance_kohm * 1e3;
}

export function hoursFromSeconds(t_s: number): number {
  return t_s / 3600;
}

export function secondsFromHours(t_h: number): number {
  return t_h * 3600;
}
