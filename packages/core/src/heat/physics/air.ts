import { kelvinFromCelsius, OutOfRangeError } from '../../measure/index.js';

/** Air at one atmosphere. @source [POLING-01] fits of Sutherland's form to its tables, read second hand */
const kScale = 2.334e-3;
const kSutherland_K = 164.54;
const viscosityScale = 1.4592e-6;
const viscositySutherland_K = 109.1;
const density1 = 351.99;
const density2 = 344.88;
const heat0 = 1030.5;
const heat1 = -0.19975;
const heat2 = 3.9734e-4;

/** Where devices are used and tested, with room for a hot face; the fits reach further. */
const range_C = [-50, 200] as const;

/** Published tables differ by so much in the conductivity of air at 40 °C, as a standard deviation of its logarithm. @assumed half of ±2 % */
export const airConductivitySpread = 0.01;

export interface Air {
  readonly k_W_per_mK: number;
  /** Dynamic viscosity, Pa s. */
  readonly viscosity_Pa_s: number;
  readonly density_kg_per_m3: number;
  readonly specificHeat_J_per_kgK: number;
  /** Kinematic viscosity. */
  readonly viscosity_m2_per_s: number;
  /** Thermal diffusivity. */
  readonly diffusivity_m2_per_s: number;
  readonly prandtl: number;
}

/**
 * Properties of dry air at one atmosphere.
 *
 * At 2000 m altitude the air is a fifth thinner: conductivity stays, but natural convection weakens by some 10 %, and this does not know
 * it. Published conductivities differ by 2 % among themselves.
 *
 * @param temp_C -50 to 200 °C; of a film or gap the mean of its two sides
 * @throws OutOfRangeError outside that range
 * @source [POLING-01] second hand, in Sutherland's form
 */
export function airAt(temp_C: number): Air {
  checkRange(temp_C);
  const temp_K = kelvinFromCelsius(temp_C);
  const k_W_per_mK = (kScale * temp_K ** 1.5) / (kSutherland_K + temp_K);
  const viscosity_Pa_s = (viscosityScale * temp_K ** 1.5) / (viscositySutherland_K + temp_K);
  const density_kg_per_m3 = density1 / temp_K + density2 / (temp_K * temp_K);
  const specificHeat_J_per_kgK = heat0 + heat1 * temp_K + heat2 * temp_K * temp_K;
  return {
    k_W_per_mK,
    viscosity_Pa_s,
    density_kg_per_m3,
    specificHeat_J_per_kgK,
    viscosity_m2_per_s: viscosity_Pa_s / density_kg_per_m3,
    diffusivity_m2_per_s: k_W_per_mK / (density_kg_per_m3 * specificHeat_J_per_kgK),
    prandtl: (viscosity_Pa_s * specificHeat_J_per_kgK) / k_W_per_mK,
  };
}

/** Relative change per kelvin of what decides natural convection; what a linearisation needs. */
export interface AirTrend {
  readonly k_per_K: number;
  /** Of viscosity times diffusivity, both as m²/s: the denominator of the Rayleigh number. */
  readonly damping_per_K: number;
  readonly prandtl_per_K: number;
}

/**
 * How the properties of `airAt` change with temperature: slopes of their logarithms.
 *
 * @param temp_C -50 to 200 °C
 * @throws OutOfRangeError outside that range
 * @source derived from the same fits
 */
export function airTrendAt(temp_C: number): AirTrend {
  checkRange(temp_C);
  const temp_K = kelvinFromCelsius(temp_C);
  const k = 1.5 / temp_K - 1 / (kSutherland_K + temp_K);
  const viscosity = 1.5 / temp_K - 1 / (viscositySutherland_K + temp_K);
  const density = -(density1 * temp_K + 2 * density2) / (density1 * temp_K + density2) / temp_K;
  const heat = (heat1 + 2 * heat2 * temp_K) / (heat0 + heat1 * temp_K + heat2 * temp_K * temp_K);
  return {
    k_per_K: k,
    damping_per_K: viscosity + k - heat - 2 * density,
    prandtl_per_K: viscosity + heat - k,
  };
}

function checkRange(temp_C: number): void {
  if (!(temp_C >= range_C[0] && temp_C <= range_C[1])) {
    throw new OutOfRangeError('temp_C', temp_C, range_C, 'Is it in degrees Celsius?');
  }
}
