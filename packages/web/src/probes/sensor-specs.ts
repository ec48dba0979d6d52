import { sensorTypes } from '@soakbench/core/probes';
import type { SensorFacts } from '@soakbench/core/records';
import type { FieldSpec, Rec } from '../parts/record-spec.js';
import { readPath } from '../parts/record-spec.js';

const kinds: FieldSpec = {
  kind: 'choice',
  key: 'sensor.kind',
  label: 'Sensor',
  options: Object.values(sensorTypes).map(({ kind, title }) => [kind, title] as const),
  none: 'not said',
  size: 'half',
  example: 'needed where logs hold mV or ohms',
};

const toleranceSpec: FieldSpec = {
  kind: 'number',
  key: 'sensor.tolerance_K',
  label: 'Tolerance ±',
  unit: 'K',
  above: 0,
  max: 50,
  hint: 'data sheet',
};

/** A coefficient of an NTC, by the power of ln R that it belongs to. */
const coefficient = (power: 0 | 1 | 2 | 3, label: string, more: Partial<FieldSpec> = {}): FieldSpec =>
  ({ kind: 'number', key: `sensor.k${power}_per_K`, label, unit: '1/K', ...more }) as FieldSpec;

function thermocoupleSpecs(form: Rec): readonly FieldSpec[] {
  const cold = readPath(form, 'sensor.coldJunction.kind');
  return [
    {
      kind: 'choice',
      key: 'sensor.type',
      label: 'Type',
      required: true,
      options: [
        ['K', 'K'],
        ['J', 'J'],
        ['T', 'T'],
        ['N', 'N'],
      ],
    },
    {
      kind: 'choice',
      key: 'sensor.class',
      label: 'Tolerance class',
      none: 'not stated: 2',
      options: [
        ['1', 'class 1'],
        ['2', 'class 2'],
      ],
    },
    {
      kind: 'choice',
      key: 'sensor.coldJunction.kind',
      label: 'Cold junction',
      none: 'left to the logger, which writes °C',
      size: 'half',
      options: [
        ['logged', 'a column of the log'],
        ['fixed', 'at a stated temperature'],
      ],
    },
    ...(cold === 'fixed'
      ? [
          {
            kind: 'number',
            key: 'sensor.coldJunction.fixed_C',
            label: 'Terminals at',
            unit: '°C',
            min: -60,
            max: 300,
            required: true,
          } as const,
        ]
      : []),
    ...(cold === undefined
      ? []
      : [
          {
            kind: 'number',
            key: 'sensor.coldJunction.u_K',
            label: 'Doubt of it',
            unit: 'K',
            min: 0,
            max: 50,
            hint: cold === 'fixed' ? 'u; 1 K where empty' : 'u; 0.5 K where empty',
          } as const,
        ]),
  ];
}

const platinumSpecs: readonly FieldSpec[] = [
  {
    kind: 'choice',
    key: 'sensor.element',
    label: 'Element',
    required: true,
    options: [
      ['Pt100', 'Pt100'],
      ['Pt1000', 'Pt1000'],
    ],
  },
  {
    kind: 'choice',
    key: 'sensor.class',
    label: 'Tolerance class',
    none: 'not stated: B',
    options: [
      ['AA', 'AA'],
      ['A', 'A'],
      ['B', 'B'],
      ['C', 'C'],
    ],
  },
  {
    kind: 'number',
    key: 'sensor.lead_ohm',
    label: 'Both leads',
    unit: 'Ω',
    min: 0,
    max: 1000,
    hint: 'two wires only',
  },
];

const specsOf: Readonly<Record<SensorFacts['kind'], (form: Rec) => readonly FieldSpec[]>> = {
  thermocouple: thermocoupleSpecs,
  platinum: () => platinumSpecs,
  'ntc-beta': () => [
    {
      kind: 'number',
      key: 'sensor.r25_ohm',
      label: 'At 25 °C',
      unit: 'Ω',
      above: 0,
      max: 1e9,
      required: true,
    },
    {
      kind: 'number',
      key: 'sensor.beta_K',
      label: 'Beta',
      unit: 'K',
      min: 500,
      max: 10_000,
      required: true,
      hint: 'a table is better',
    },
    toleranceSpec,
  ],
  'ntc-coefficients': () => [
    coefficient(0, 'Constant', { required: true }),
    coefficient(1, 'Times ln R', { required: true }),
    coefficient(2, 'Times its square', { hint: 'of four only' }),
    coefficient(3, 'Times its cube', { hint: 'the C of A, B, C' }),
    {
      kind: 'number',
      key: 'sensor.reference_ohm',
      label: 'R divided by',
      unit: 'Ω',
      above: 0,
      max: 1e9,
      hint: '1 Ω where empty',
    },
    toleranceSpec,
  ],
  'ntc-table': () => [
    toleranceSpec,
    {
      kind: 'rows',
      key: 'sensor.rows',
      label: '°C and Ω, a pair on each line',
      names: ['at_C', 'resistance_ohm'],
      least: 2,
      required: true,
      size: 'wide',
      example: '25 10000',
    },
  ],
};

/** The facts of a probe's sensor; which they are depends on its kind. */
export function sensorSpecs(form: Rec): readonly FieldSpec[] {
  const kind = readPath(form, 'sensor.kind') as SensorFacts['kind'] | undefined;
  return kind === undefined ? [kinds] : [kinds, ...specsOf[kind](form)];
}

/** Another kind of sensor, or another kind of cold junction, begins without the facts of the one before. */
export function adjustSensor(form: Rec, key: string): Rec {
  if (key === 'sensor.kind') return reset(form, 'sensor');
  if (key !== 'sensor.coldJunction.kind') return form;
  const sensor = form['sensor'];
  return typeof sensor === 'object' && sensor !== null
    ? { ...form, sensor: reset(sensor as Rec, 'coldJunction') }
    : form;
}

function reset(record: Rec, part: string): Rec {
  const { [part]: old, ...others } = record;
  const kind = (old as Rec | undefined)?.['kind'];
  return kind === undefined ? others : { ...others, [part]: { kind } };
}
