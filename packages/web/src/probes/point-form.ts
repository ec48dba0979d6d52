/** A check point as a flat form, and back: which fields it asks for depends on what the probes were held in. */
import { formatNumber } from '@soakbench/core/measure';
import {
  type CheckReference,
  checkReadingFields,
  type Probe,
  type ProbeCheck,
} from '@soakbench/core/records';
import type { FieldGroup, FieldSpec, Rec } from '../parts/record-spec.js';

type Point = ProbeCheck['points'][number];

const kinds = [
  ['ice', 'ice in water'],
  ['boiling', 'boiling water'],
  ['reference', 'beside a reference thermometer'],
  ['together', 'side by side, temperature unknown'],
] as const;

const reductions = [
  ['altimeter', 'altimeter setting (QNH)'],
  ['weather', 'weather map, day’s temperature'],
] as const;

const pressures = [
  ['station', 'barometer at the kettle'],
  ['seaLevel', 'weather report and altitude'],
  ['altitude', 'altitude alone'],
] as const;

/** Fields that belong to one kind of bath, or to one way of knowing the pressure, and to no other. */
const ownFields: Readonly<Record<string, readonly string[]>> = {
  boiling: ['by', 'station_hPa', 'seaLevel_hPa', 'reduction', 'altitude_m', 'depth_mm', 'salt_g_per_kg'],
  reference: ['reference_C'],
  station: ['station_hPa'],
  seaLevel: ['seaLevel_hPa', 'reduction', 'altitude_m'],
  altitude: ['altitude_m'],
};

export function pointGroups(probes: readonly Probe[], form: Rec): readonly FieldGroup[] {
  return [
    {
      specs: [
        { kind: 'choice', key: 'kind', label: 'Held in', options: kinds, required: true, size: 'half' },
        ...bathSpecs(form),
      ],
    },
    ...Array.from({ length: roundsIn(form) + 1 }, (_, round) => roundGroup(probes, form, round)),
  ];
}

/** How one reading is noted: a temperature, or a signal, for a thermocouple with the temperature of its terminals. */
type Noted = Pick<Point['readings'][number], (typeof notedFields)[number]>;
const notedFields = [...checkReadingFields, 'terminals_C'] as const;

/** The readings of all probes, by probe and by which reading of it in this bath they are, counted from 0. */
type FormReadings = Readonly<Record<string, Readonly<Record<string, Noted>>>>;

const readingsOf = (form: Rec) => (form['readings'] ?? {}) as FormReadings;

/** How many readings the probe that was read most often has here; one at the least, so that the form asks for it. */
function roundsIn(form: Rec): number {
  const byProbe = Object.values(readingsOf(form));
  return Math.max(1, ...byProbe.flatMap((mine) => Object.keys(mine).map((round) => Number(round) + 1)));
}

/** One reading of each probe. The round after the last one that was read is there to be filled, folded away. */
function roundGroup(probes: readonly Probe[], form: Rec, round: number): FieldGroup {
  const titles = ['Readings once they stand still', 'Second readings, some minutes later'];
  return {
    title: titles[round] ?? `Readings no. ${round + 1}`,
    folded: round > 0,
    specs: probes.flatMap((probe) => readingSpecs(probe, form, round)),
  };
}

/** How warm its terminals were, where the record of a thermocouple states it. */
function fixedTerminals_C(sensor: Probe['sensor']): number | undefined {
  if (sensor?.kind !== 'thermocouple' || sensor.coldJunction?.kind !== 'fixed') return undefined;
  return sensor.coldJunction.fixed_C;
}

/** A reading as a temperature, and for a probe that states its sensor also as the signal it was noted in. */
function readingSpecs({ id, name, sensor }: Probe, form: Rec, round: number): readonly FieldSpec[] {
  const label = round === 0 ? name : `${name}, no. ${round + 1}`;
  const noted = readingsOf(form)[id]?.[round] ?? {};
  const spec = (field: keyof Noted, more: Partial<FieldSpec>): FieldSpec =>
    ({ kind: 'number', key: `readings.${id}.${round}.${field}`, label, ...more }) as FieldSpec;
  const temperature = { unit: '°C', min: -60, max: 300 } as const;
  const isThermocouple = sensor?.kind === 'thermocouple' || noted.reading_mV !== undefined;
  const isResistor = (sensor !== undefined && !isThermocouple) || noted.reading_ohm !== undefined;
  const hint = 'or as the meter shows it';
  const fixed_C = fixedTerminals_C(sensor);
  return [
    spec('reading_C', temperature),
    ...(isThermocouple
      ? [
          spec('reading_mV', { unit: 'mV', min: -20, max: 100, hint }),
          spec('terminals_C', {
            ...temperature,
            label: `Terminals of ${label}`,
            hint:
              fixed_C === undefined ? 'with a reading in mV' : `${formatNumber(fixed_C, 1)} °C where empty`,
          }),
        ]
      : []),
    ...(isResistor ? [spec('reading_ohm', { unit: 'Ω', above: 0, max: 1e9, hint })] : []),
  ];
}

function bathSpecs(form: Rec): readonly FieldSpec[] {
  const u: FieldSpec = {
    kind: 'number',
    key: 'u_K',
    label: 'Doubt of the bath',
    unit: 'K',
    min: 0,
    max: 50,
    hint: 'u, if you know better',
  };
  if (form['kind'] === 'ice') return [u];
  if (form['kind'] === 'reference') {
    return [
      {
        kind: 'number',
        key: 'reference_C',
        label: 'It reads',
        unit: '°C',
        min: -60,
        max: 300,
        required: true,
      },
      { ...u, label: 'Its doubt', hint: 'u, from its certificate', required: true },
    ];
  }
  if (form['kind'] !== 'boiling') return [];
  const altitude: FieldSpec = {
    kind: 'number',
    key: 'altitude_m',
    label: 'Altitude',
    unit: 'm',
    min: -430,
    max: 5000,
    required: true,
  };
  const by: FieldSpec = {
    kind: 'choice',
    key: 'by',
    label: 'Pressure from',
    options: pressures,
    required: true,
    size: 'half',
  };
  const water: readonly FieldSpec[] = [
    {
      kind: 'number',
      key: 'depth_mm',
      label: 'How deep',
      unit: 'mm',
      min: 0,
      max: 500,
      hint: '50 mm add 0.13 K',
    },
    {
      kind: 'number',
      key: 'salt_g_per_kg',
      label: 'Salt',
      unit: 'g/kg',
      min: 0,
      max: 100,
      hint: '10 g/kg add 0.18 K',
    },
    u,
  ];
  if (form['by'] === 'station') {
    return [
      by,
      {
        kind: 'number',
        key: 'station_hPa',
        label: 'At the kettle',
        unit: 'hPa',
        min: 500,
        max: 1100,
        required: true,
        hint: 'not reduced to sea level',
      },
      ...water,
    ];
  }
  if (form['by'] === 'seaLevel') {
    return [
      by,
      {
        kind: 'number',
        key: 'seaLevel_hPa',
        label: 'At sea level',
        unit: 'hPa',
        min: 850,
        max: 1100,
        required: true,
        hint: 'as a report gives it',
      },
      {
        kind: 'choice',
        key: 'reduction',
        label: 'Reduced as',
        options: reductions,
        none: 'not known',
        size: 'half',
      },
      altitude,
      ...water,
    ];
  }
  if (form['by'] === 'altitude') return [by, { ...altitude, hint: 'a standard day is assumed' }, ...water];
  return [by];
}

/** What changing the bath takes away: fields that only the other kind has. */
export function adjustPoint(form: Rec, key: string): Rec {
  if (key !== 'kind' && key !== 'by') return form;
  const kept = new Set(ownFields[String(form[key])] ?? []);
  const rivals = key === 'kind' ? ['boiling', 'reference'] : ['station', 'seaLevel', 'altitude'];
  const dropped = new Set(
    rivals.flatMap((rival) => ownFields[rival] ?? []).filter((field) => !kept.has(field)),
  );
  return Object.fromEntries(Object.entries(form).filter(([field]) => !dropped.has(field)));
}

/**
 * What keeps the readings from being kept: there is none, one is noted twice or not at all beside its terminals, or nobody knows
 * how warm the terminals of a thermocouple were.
 */
export function missingReading(probes: readonly Probe[], form: Rec): readonly string[] {
  if (form['readings'] === undefined) return ['one reading'];
  const all = Object.values(readingsOf(form)).flatMap((mine) => Object.values(mine));
  const counts = all.map((noted) => checkReadingFields.filter((field) => noted[field] !== undefined).length);
  return [
    ...(counts.includes(0) ? ['the reading in mV beside its terminals'] : []),
    ...(counts.some((count) => count > 1) ? ['each reading in one unit only'] : []),
    ...(Object.entries(readingsOf(form)).some(([id, mine]) => lacksTerminals(probes, id, mine))
      ? ['how warm the terminals were']
      : []),
  ];
}

function lacksTerminals(probes: readonly Probe[], id: string, mine: FormReadings[string]): boolean {
  const sensor = probes.find((probe) => probe.id === id)?.sensor;
  if (sensor?.kind !== 'thermocouple' || fixedTerminals_C(sensor) !== undefined) return false;
  return Object.values(mine).some(
    ({ reading_mV, terminals_C }) => reading_mV !== undefined && terminals_C === undefined,
  );
}

export function formOfPoint(point: Point): Rec {
  const { reference } = point;
  const readings: Record<string, Record<string, Noted>> = {};
  for (const reading of point.readings) {
    const mine = (readings[reading.probe] ??= {});
    mine[Object.keys(mine).length] = notedOf(reading);
  }
  const by = reference.kind === 'boiling' ? pressureKind(reference) : undefined;
  return { ...reference, ...(by ? { by } : {}), readings };
}

function notedOf(reading: Noted): Noted {
  return Object.fromEntries(
    notedFields.flatMap((field) => (reading[field] === undefined ? [] : [[field, reading[field]]])),
  );
}

function pressureKind(reference: Extract<CheckReference, { kind: 'boiling' }>): string {
  if (reference.station_hPa !== undefined) return 'station';
  return reference.seaLevel_hPa === undefined ? 'altitude' : 'seaLevel';
}

/**
 * The point a complete form describes. Readings stay in the order they had, new ones come behind them; the repeatability
 * of a reading and fields of a later version, which the form does not show, are kept as they were.
 *
 * @param before the point as it was
 */
export function pointOfForm(form: Rec, before?: Point): Point {
  const { readings: _readings, by: _by, ...reference } = form;
  const readings = readingsOf(form);
  const met = new Map<string, number>();
  const kept = (before?.readings ?? []).flatMap((old) => {
    const round = met.get(old.probe) ?? 0;
    met.set(old.probe, round + 1);
    const noted = readings[old.probe]?.[round];
    if (noted === undefined) return [];
    const gone = notedFields.filter((field) => noted[field] === undefined);
    return [omit({ ...old, ...noted }, gone)];
  });
  const rounds = Array.from({ length: roundsIn(form) }, (_, round) => round);
  const added = rounds.flatMap((round) =>
    Object.entries(readings).flatMap(([probe, mine]) => {
      const noted = round < (met.get(probe) ?? 0) ? undefined : mine[round];
      return noted === undefined ? [] : [{ probe, ...noted }];
    }),
  );
  return { ...before, reference: reference as unknown as CheckReference, readings: [...kept, ...added] };
}

function omit<T extends object>(record: T, fields: readonly string[]): T {
  return Object.fromEntries(Object.entries(record).filter(([field]) => !fields.includes(field))) as T;
}

/** The bath alone, where the form says enough of it; null where it does not yet. */
export function referenceOfForm(form: Rec): CheckReference | null {
  const [bath] = pointGroups([], form);
  const isComplete = bath?.specs.every((spec) => !spec.required || form[spec.key] !== undefined) ?? false;
  return isComplete ? pointOfForm({ ...form, readings: {} }).reference : null;
}
