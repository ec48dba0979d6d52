/**
 * The build: everything that was measured or decided about one refit, and nothing that can be computed.
 * One schema, shared by the folder, the store, the HTTP API, the command line and the forms.
 *
 * Every object is loose: fields this version does not know are kept as they came.
 */
import * as z from 'zod';
import { dutyYear } from './duty-year.js';
import { channelUnits, sensor } from './sensor-record.js';

export const buildFormat = 'soakbench-build';
/** Raised when a reader of the older version would misunderstand the newer file. */
export const buildVersion = 1;

const id = z.string().regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'must be lower-case letters, digits and hyphens');
const text = z.string().max(4000);
const name = z.string().trim().min(1, 'must not be empty').max(120);
const date = z.iso.datetime({ offset: true });

const temperature_C = z.number().min(-60).max(300);
const length_mm = z.number().min(0).max(2000);
const positive_mm = z.number().gt(0, 'must be more than 0').max(2000);
const uncertainty_K = z.number().min(0).max(50);
const power_W = z.number().min(0).max(1000);
const conductivity = z.number().gt(0, 'must be more than 0').max(5000);

/** A rectangle seen from the pack side; the origin is the device's lower left corner. */
const outline = z.looseObject({
  x_mm: length_mm,
  y_mm: length_mm,
  length_mm: positive_mm,
  width_mm: positive_mm,
});

/** What a face of the device meets while it is soaked or used. */
const faceMeets = z.enum(['air', 'table', 'cloth', 'hand']);

/** The device, cut from the front shell to the back shell. */
const device = z.looseObject({
  name,
  note: text.optional(),
  /** What the shells are made of, by its id in the table of materials; absent, a plastic. */
  shellMaterial: z.string().max(60).optional(),
  /** Where set-up and pack lie in the bay: on the tallest zone, or on the back shell; absent, on the zones, as the section draws it. */
  packRestsOn: z.enum(['zones', 'back-shell']).optional(),
  /** How it lay or stood in the runs; absent, flat with air on both faces. */
  surroundings: z
    .looseObject({
      posture: z.enum(['flat', 'upright']).optional(),
      front: faceMeets.optional(),
      back: faceMeets.optional(),
    })
    .optional(),
  length_mm: positive_mm,
  width_mm: positive_mm,
  frontShell_mm: positive_mm,
  /** From the front shell to the board: keys, display, air. */
  frontGap_mm: length_mm,
  board: z.looseObject({ ...outline.shape, thickness_mm: positive_mm }),
  /** From the board's pack side to the inner face of the back shell: zones, set-up, pack and swelling share it. */
  bay_mm: positive_mm,
  backShell_mm: positive_mm,
});

const pack = z.looseObject({
  name,
  chemistry: z.string().max(60).optional(),
  series: z.number().int().min(1).max(20),
  parallel: z.number().int().min(1).max(20),
  capacity_mAh: z.number().gt(0).max(1_000_000).optional(),
  nominal_V: z.number().gt(0).max(100).optional(),
  energy_Wh: z.number().gt(0).max(5000).optional(),
  mass_g: z.number().gt(0).max(50_000).optional(),
  /** Of the whole pack, from the step of its voltage when a load comes on; not what a meter at 1 kHz reads. */
  resistance_mohm: z.number().gt(0).max(10_000).optional(),
  outline: outline.optional(),
  thickness_mm: positive_mm.optional(),
  /** What it cost, for the cost of a year. */
  price: z
    .looseObject({ amount: z.number().min(0).max(1e7), currency: z.string().trim().min(1).max(8) })
    .optional(),
  note: text.optional(),
});

const zone = z.looseObject({ id, name, ...outline.shape, height_mm: length_mm, load_W: power_W.optional() });

/** Where a probe may sit. */
export const probePlaces = ['zone', 'cell', 'ambient', 'shell'] as const;

const probe = z.looseObject({
  id,
  name,
  /** `cell` is a pack face; `ambient` the air of the room, away from the device's own warmth. */
  place: z.enum(probePlaces),
  zone: id.optional(),
  /** Which cell of the pack, counted from 1. */
  cell: z.number().int().min(1).max(400).optional(),
  x_mm: length_mm.optional(),
  y_mm: length_mm.optional(),
  /** Smallest step of the display or log; a rectangular contribution to the uncertainty. */
  resolution_K: z.number().min(0).max(5).optional(),
  /** Standard uncertainty of an unchecked probe, from its data sheet. */
  maker_u_K: uncertainty_K.optional(),
  /** Standard uncertainty from how the junction is held on its surface; it mostly reads towards the air. */
  attachment_u_K: uncertainty_K.optional(),
  /** What it is made of; needed where logs hold its raw signal. */
  sensor: sensor.optional(),
  note: text.optional(),
});

/**
 * One reading of a probe in a bath: a temperature, or the signal of the sensor that the probe states. One of the three stands;
 * a probe may have several readings in a bath.
 */
const checkReading = z.looseObject({
  probe: id,
  reading_C: temperature_C.optional(),
  /** Of a thermocouple. */
  reading_mV: z.number().min(-20).max(100).optional(),
  /** How warm its terminals were; absent, as the probe's record says. */
  terminals_C: temperature_C.optional(),
  /** Of a platinum resistor or an NTC. */
  reading_ohm: z.number().gt(0, 'must be more than 0').max(1e9).optional(),
  u_K: uncertainty_K.optional(),
});

/** The ways in which a reading of a check may be noted. */
export const checkReadingFields = ['reading_C', 'reading_mV', 'reading_ohm'] as const;

/** What a check point is held against. Pressure is named for what it is, so that one cannot pass for another. */
const checkReference = z.discriminatedUnion('kind', [
  z.looseObject({ kind: z.literal('ice'), u_K: uncertainty_K.optional() }),
  z.looseObject({
    kind: z.literal('boiling'),
    /** Absolute pressure at the kettle, from a barometer. */
    station_hPa: z.number().min(500).max(1100).optional(),
    /** Pressure reduced to sea level, as a weather report or an airfield gives it; needs `altitude_m`. */
    seaLevel_hPa: z.number().min(850).max(1100).optional(),
    /** How it was reduced: `altimeter` (QNH) through the standard atmosphere, `weather` with the temperature of the day. */
    reduction: z.enum(['altimeter', 'weather']).optional(),
    altitude_m: z.number().min(-430).max(5000).optional(),
    /** How deep the probes hung: the water above adds to the pressure. */
    depth_mm: z.number().min(0).max(500).optional(),
    /** Common salt in the water, grams per kilogram. */
    salt_g_per_kg: z.number().min(0).max(100).optional(),
    u_K: uncertainty_K.optional(),
  }),
  z.looseObject({ kind: z.literal('reference'), reference_C: temperature_C, u_K: uncertainty_K }),
  /** All probes side by side in one bath that nobody knows the temperature of: it makes them agree, no more. */
  z.looseObject({ kind: z.literal('together') }),
]);

const probeCheck = z.looseObject({
  id,
  at: date.optional(),
  model: z.enum(['offset', 'offset-gain']),
  points: z
    .array(
      z.looseObject({
        reference: checkReference,
        readings: z.array(checkReading).min(1),
      }),
    )
    .min(1),
  note: text.optional(),
});

/** One layer between zones and pack, listed from the zones towards the pack. */
const layer = z.looseObject({
  material: z.enum(['polyimide', 'aluminium', 'copper', 'graphite', 'foam', 'tape', 'paper', 'air', 'other']),
  name,
  thickness_mm: positive_mm,
  outline: outline.optional(),
  /** The kind of it, by its id in the table of materials; absent, the usual kind of `material`. */
  grade: z.string().max(60).optional(),
  /** What its faces look like to heat, where that is not the usual face of the material. */
  finish: z.enum(['bare', 'oxidised', 'anodised', 'painted']).optional(),
  /** From its own data sheet, before the table: through the sheet and along it. */
  k_W_per_mK: conductivity.optional(),
  kInPlane_W_per_mK: conductivity.optional(),
  /** Change of its conductivity per kelvin, as a share of that at 25 °C; negative where it falls. */
  kSlope_per_K: z.number().min(-0.005).max(0.005).optional(),
  /** Present where the layer is not a sheet but strips of it, evenly spaced along the device. */
  strips: z.looseObject({ count: z.number().int().min(1).max(40), width_mm: positive_mm }).optional(),
});

const setup = z.looseObject({ id, name, layers: z.array(layer).max(20), note: text.optional() });

/** Minutes the log's clock is ahead of UTC, where its stamps do not say; as its header or a person said. */
const utcOffset_min = z.number().int().min(-840).max(840).optional();

/** How a log was read. Stored with the run, so that the same bytes always give the same numbers. */
const recipe = z.looseObject({
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252']),
  delimiter: z.enum([',', ';', '\t', '|', ' ']),
  decimal: z.enum(['.', ',']),
  /** The mark that groups digits by three; absent, a lone mark that is not the decimal mark makes a cell unreadable. */
  thousands: z.enum([',', '.', ' ', "'"]).optional(),
  /** How the readings are laid out; absent, each line is one time and its delimiter parts the cells. */
  layout: z
    .discriminatedUnion('form', [
      /** Columns begin at these places of the line, counted from 0. */
      z.looseObject({
        form: z.literal('fixed'),
        starts: z.array(z.number().int().min(0).max(4000)).min(2).max(256),
      }),
      /**
       * One reading a line: time, name, value. A channel takes the readings whose name is its header; its column only numbers it.
       * Readings with one stamp, or of one cycle through the names, make a row.
       */
      z.looseObject({
        form: z.literal('long'),
        name: z.number().int().min(0).max(255),
        value: z.number().int().min(0).max(255),
        by: z.enum(['stamp', 'cycle']),
      }),
      /** A line of words: a channel takes the number behind the words of its header; column 0 is the stamp it begins with. */
      z.looseObject({ form: z.literal('sentence') }),
    ])
    .optional(),
  /** Lines before the first row of numbers. */
  headerLines: z.number().int().min(0).max(500),
  time: z.discriminatedUnion('style', [
    /**
     * Date and time in ISO 8601, in one column or two (date and time of day, a third for AM and PM), or in five or six: year, month,
     * day, hour, minute, second. Without an offset it is read as UTC.
     */
    z.looseObject({
      style: z.literal('iso'),
      columns: z.array(z.number().int().min(0)).min(1).max(6),
      utcOffset_min,
    }),
    z.looseObject({
      style: z.literal('date'),
      columns: z.array(z.number().int().min(0)).min(1).max(3),
      order: z.enum(['day-month', 'month-day']),
      utcOffset_min,
    }),
    z.looseObject({
      style: z.literal('epoch'),
      columns: z.array(z.number().int().min(0)).length(1),
      unit: z.enum(['s', 'ms']),
    }),
    z.looseObject({
      style: z.literal('elapsed'),
      columns: z.array(z.number().int().min(0)).length(1),
      unit: z.enum(['s', 'min', 'h', 'ms', 'h:m:s']),
      /** A count that starts again goes on one row later; absent, it is refused. */
      restart: z.literal('join').optional(),
    }),
    /** Time of day; it may pass midnight. A dial of 12 hours without AM and PM also passes noon. */
    z.looseObject({
      style: z.literal('clock'),
      columns: z.array(z.number().int().min(0)).length(1),
      dial_h: z.literal(12).optional(),
    }),
    /** No usable clock: rows are this far apart. */
    z.looseObject({ style: z.literal('interval'), interval_s: z.number().gt(0).max(86_400) }),
  ]),
  channels: z
    .array(
      z.looseObject({
        column: z.number().int().min(0),
        header: z.string().max(200),
        /** The probe this column belongs to; absent means the column is kept but not used. */
        probe: id.optional(),
        unit: z.enum(channelUnits),
        /** What the log counts in, where it is not whole degrees: tenths, hundredths or thousandths. Of no raw signal. */
        scale: z.union([z.literal(0.1), z.literal(0.01), z.literal(0.001)]).optional(),
        /** True for the column with the temperature of the terminals, where the log's thermocouples end. */
        coldJunction: z.boolean().optional(),
      }),
    )
    .min(1)
    .max(64),
  /** Cells that mean "no reading", compared without regard to case, besides empty cells. */
  missing: z.array(z.string().max(40)).max(40),
  /** Power-on values, fault codes and lost decimal points between readings; absent, they are flagged and kept. */
  doubtful: z.enum(['keep', 'leave-out']).optional(),
  /** The names of all columns when the recipe was made, by which the next log of the same shape is known. */
  headers: z.array(z.string().max(200)).max(256).optional(),
});

const phaseKinds = ['idle', 'load', 'cool'] as const;

const run = z.looseObject({
  id,
  name: name.optional(),
  log: z.looseObject({
    file: z.string().regex(/^[^/\\]{1,200}$/, 'must be a plain file name inside logs/'),
    sha256: z.string().regex(/^[0-9a-f]{64}$/),
  }),
  setup: id,
  /** Runs of one mounting share how the pack was put in; each re-mounting has a new name. */
  mounting: z.string().trim().min(1).max(60),
  /** Runs of one session share a day and a room. */
  session: z.string().trim().min(1).max(60),
  startedAt: date.optional(),
  conditions: z
    .looseObject({
      load_W: power_W.optional(),
      load_u_W: power_W.optional(),
      /** What the device drew at idle, before the load came on. */
      idle_W: power_W.optional(),
      idle_u_W: power_W.optional(),
      /** Mean current through the pack under load, in whichever way it flowed: out of it, or into it while it was charged. */
      pack_A: z.number().min(0).max(1000).optional(),
      charging: z.boolean().optional(),
      /** The room's temperature where no ambient probe was logged. */
      ambient_C: temperature_C.optional(),
      ambient_u_K: uncertainty_K.optional(),
      note: text.optional(),
    })
    .optional(),
  recipe,
  /** Limits of the phases as a person set them; absent, they are found in the data. */
  phases: z
    .array(z.looseObject({ kind: z.enum(phaseKinds), from_s: z.number().min(0), to_s: z.number().gt(0) }))
    .min(1)
    .max(12)
    .optional(),
  /** Why this run does not count. */
  setAside: text.optional(),
});

/** Runs still to be made, in the order drawn by lot. What has become of them follows from `runs`. */
const runPlan = z.looseObject({
  /** The seed it was drawn with: the same seed and needs draw the same plan. */
  seed: z.number().int().min(1).max(2_147_483_646),
  drawnAt: date.optional(),
  /** Runs there were when it was drawn; they do not count towards it. */
  before: z.array(id).max(500),
  runs: z
    .array(
      z.looseObject({
        session: z.string().trim().min(1).max(60),
        setup: id,
        /** When a person began it at the bench. */
        startedAt: date.optional(),
      }),
    )
    .min(1)
    .max(200),
});

const limitStates = ['charging', 'discharging', 'stored', 'any'] as const;

const limit = z.looseObject({
  id,
  where: z.enum(['cell', 'zone', 'touch']),
  zone: id.optional(),
  state: z.enum(limitStates),
  level: z.enum(['prefer', 'wear', 'stop']),
  limit_C: temperature_C,
  /** Where the limit comes from: the maker's sheet, a standard, or `common practice, no source`. */
  source: z.string().trim().min(1, 'must say where the limit comes from').max(400),
});

export const buildSchema = z.looseObject({
  format: z.literal(buildFormat),
  version: z.number().int().min(1),
  id,
  name,
  /** True where device, pack and readings are made up. Shown wherever the build appears. */
  invented: z.boolean().optional(),
  note: text.optional(),
  device: device.optional(),
  originalPack: pack.optional(),
  newPack: pack.optional(),
  zones: z.array(zone).max(40),
  probes: z.array(probe).max(64),
  probeChecks: z.array(probeCheck).max(100),
  setups: z.array(setup).max(60),
  /** The set-up the others are compared with; the first one where it is not named. */
  baseline: id.optional(),
  /** A difference between set-ups that does not matter: what "no worse" allows. Half a kelvin where it is not stated. */
  noWorse_K: z.number().gt(0).max(20).optional(),
  runs: z.array(run).max(500),
  runPlan: runPlan.optional(),
  limits: z.array(limit).max(40),
  designAmbient: z
    .looseObject({ ambient_C: temperature_C, source: z.string().max(400).optional() })
    .optional(),
  /** An ordinary day of use; the rest of the 24 hours the device lies switched off at `rest_C`. */
  duty: z
    .looseObject({
      load_h_per_day: z.number().min(0).max(24),
      idle_h_per_day: z.number().min(0).max(24),
      ambient_C: temperature_C,
      rest_C: temperature_C,
    })
    .optional(),
  /** The same through a year, with activities, charging habit and seasons, for a forecast in years. */
  dutyYear: dutyYear.optional(),
});

export type Build = z.infer<typeof buildSchema>;
export type Device = z.infer<typeof device>;
export type Pack = z.infer<typeof pack>;
export type Outline = z.infer<typeof outline>;
export type Zone = z.infer<typeof zone>;
export type Probe = z.infer<typeof probe>;
export type ProbeCheck = z.infer<typeof probeCheck>;
export type CheckReference = z.infer<typeof checkReference>;
export type Setup = z.infer<typeof setup>;
export type Layer = z.infer<typeof layer>;
export type Run = z.infer<typeof run>;
export type Recipe = z.infer<typeof recipe>;
export type RunPlan = z.infer<typeof runPlan>;
export type PhaseKind = (typeof phaseKinds)[number];
export type Limit = z.infer<typeof limit>;
export type LimitState = (typeof limitStates)[number];
export type Duty = NonNullable<Build['duty']>;
export type DesignAmbient = NonNullable<Build['designAmbient']>;
