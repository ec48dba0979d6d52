/** What a probe is made of: enough to turn its raw signal into a temperature, and to say how far its maker lets it err. */
import * as z from 'zod';

const temperature_C = z.number().min(-60).max(300);
const uncertainty_K = z.number().min(0).max(50);
const tolerance_K = z.number().gt(0, 'must be more than 0').max(50);
const resistance_ohm = z.number().gt(0, 'must be more than 0').max(1e9);

/** Where the wires of a thermocouple end: its signal tells how much warmer its tip is than this place. */
const coldJunction = z.discriminatedUnion('kind', [
  /** The log has a column with the temperature of the terminals; the recipe marks it. */
  z.looseObject({ kind: z.literal('logged'), u_K: uncertainty_K.optional() }),
  /** Where the log has no such column the terminals were at this temperature; 0 for an ice bath or an electronic ice point. */
  z.looseObject({ kind: z.literal('fixed'), fixed_C: temperature_C, u_K: uncertainty_K.optional() }),
]);

const thermocouple = z.looseObject({
  kind: z.literal('thermocouple'),
  type: z.enum(['K', 'J', 'T', 'N']),
  class: z.enum(['1', '2']).optional(),
  /** Absent where the logger takes care of it and writes temperatures. */
  coldJunction: coldJunction.optional(),
});

const platinum = z.looseObject({
  kind: z.literal('platinum'),
  element: z.enum(['Pt100', 'Pt1000']),
  class: z.enum(['AA', 'A', 'B', 'C']).optional(),
  /** Resistance of both leads together, where the logger measures through two wires. */
  lead_ohm: z.number().min(0).max(1000).optional(),
});

/** Largest error the maker allows near room temperature, either way; the same for every kind of NTC. */
const ntcTolerance = { tolerance_K: tolerance_K.optional() };

const ntcBeta = z.looseObject({
  kind: z.literal('ntc-beta'),
  /** Resistance at 25 °C. */
  r25_ohm: resistance_ohm,
  beta_K: z.number().min(500).max(10_000),
  ...ntcTolerance,
});

/**
 * 1/T = k0 + k1 L + k2 L² + k3 L³ with L = ln(R / reference). Named by the power they belong to, because the third letter of
 * a data sheet's A, B, C is the cube and that of its A, B, C, D is the square.
 */
const ntcCoefficients = z.looseObject({
  kind: z.literal('ntc-coefficients'),
  k0_per_K: z.number(),
  k1_per_K: z.number(),
  k2_per_K: z.number().optional(),
  k3_per_K: z.number().optional(),
  /** What the sheet divides the resistance by: 1 ohm where absent, often the resistance at 25 °C. */
  reference_ohm: resistance_ohm.optional(),
  ...ntcTolerance,
});

const ntcTable = z.looseObject({
  kind: z.literal('ntc-table'),
  rows: z
    .array(z.looseObject({ at_C: z.number().min(-100).max(300), resistance_ohm }))
    .min(2)
    .max(400),
  ...ntcTolerance,
});

export const sensor = z.discriminatedUnion('kind', [
  thermocouple,
  platinum,
  ntcBeta,
  ntcCoefficients,
  ntcTable,
]);

/** What a column of a log may be written in: a temperature, or the raw signal of the probe's sensor. */
export const channelUnits = ['C', 'F', 'K', 'mV', 'uV', 'ohm', 'kohm'] as const;

export type SensorFacts = z.infer<typeof sensor>;
export type ChannelUnit = (typeof channelUnits)[number];
