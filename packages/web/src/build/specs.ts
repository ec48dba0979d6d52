/** The fields of the records one describes a build with: what the caliper and the labels say. */
import type { FieldGroup, FieldSpec } from '../parts/record-spec.js';

const length = (key: string, label: string, more: Partial<FieldSpec> = {}): FieldSpec =>
  ({ kind: 'number', key, label, unit: 'mm', above: 0, max: 2000, required: true, ...more }) as FieldSpec;
const place = (key: string, label: string, more: Partial<FieldSpec> = {}): FieldSpec =>
  ({ kind: 'number', key, label, unit: 'mm', min: 0, max: 2000, required: true, ...more }) as FieldSpec;

/** A rectangle on the plan, seen from the pack side; the origin is the device's lower left corner. */
function outlineSpecs(prefix: string): readonly FieldSpec[] {
  return [
    place(`${prefix}x_mm`, 'From the left'),
    place(`${prefix}y_mm`, 'From below'),
    length(`${prefix}length_mm`, 'Length'),
    length(`${prefix}width_mm`, 'Width'),
  ];
}

export const deviceGroups: readonly FieldGroup[] = [
  {
    specs: [
      { kind: 'text', key: 'name', label: 'Name', required: true, size: 'half', maxLength: 120 },
      length('length_mm', 'Length'),
      length('width_mm', 'Width'),
    ],
  },
  {
    title: 'Through the thickness, front to back',
    specs: [
      length('frontShell_mm', 'Front shell'),
      place('frontGap_mm', 'Front gap', { hint: 'keys, display, air' }),
      length('board.thickness_mm', 'Board'),
      length('bay_mm', 'Bay', { hint: 'board’s pack side to inner back shell' }),
      length('backShell_mm', 'Back shell'),
    ],
  },
  { title: 'Board outline, seen from the pack side', specs: outlineSpecs('board.') },
  { specs: [{ kind: 'text', key: 'note', label: 'Note', lines: 2, size: 'wide', maxLength: 4000 }] },
];

const chemistries = ['lithium cobalt oxide', 'NMC', 'NCA', 'LFP', 'LMO', 'not known'];

export const packGroups: readonly FieldGroup[] = [
  {
    specs: [
      {
        kind: 'text',
        key: 'name',
        label: 'Name',
        required: true,
        size: 'half',
        maxLength: 120,
        example: 'as you speak of it: two-cell pouch',
      },
      {
        kind: 'text',
        key: 'chemistry',
        label: 'Chemistry',
        maxLength: 60,
        size: 'half',
        suggestions: chemistries,
      },
      {
        kind: 'number',
        key: 'series',
        label: 'Cells in series',
        min: 1,
        max: 20,
        whole: true,
        required: true,
      },
      {
        kind: 'number',
        key: 'parallel',
        label: 'Cells in parallel',
        min: 1,
        max: 20,
        whole: true,
        required: true,
      },
      { kind: 'number', key: 'capacity_mAh', label: 'Rated charge', unit: 'mAh', above: 0, max: 1_000_000 },
      { kind: 'number', key: 'nominal_V', label: 'Nominal voltage', unit: 'V', above: 0, max: 100 },
      { kind: 'number', key: 'energy_Wh', label: 'Energy', unit: 'Wh', above: 0, max: 5000 },
      { kind: 'number', key: 'mass_g', label: 'Mass', unit: 'g', above: 0, max: 50_000 },
      length('thickness_mm', 'Thickness', { required: false }),
    ],
  },
  { title: 'Outline in the device', optional: true, specs: outlineSpecs('outline.') },
  {
    title: 'Price, for the cost of a year',
    optional: true,
    specs: [
      { kind: 'number', key: 'price.amount', label: 'Price', min: 0, max: 1e7, required: true },
      {
        kind: 'text',
        key: 'price.currency',
        label: 'Currency',
        maxLength: 8,
        required: true,
        example: 'EUR',
      },
    ],
  },
  { specs: [{ kind: 'text', key: 'note', label: 'Note', lines: 2, size: 'wide', maxLength: 4000 }] },
];

export const zoneGroups: readonly FieldGroup[] = [
  {
    specs: [
      {
        kind: 'text',
        key: 'name',
        label: 'Name',
        required: true,
        size: 'half',
        maxLength: 120,
        example: 'what gives off the heat: processor',
      },
      {
        kind: 'number',
        key: 'load_W',
        label: 'Power at full load',
        unit: 'W',
        min: 0,
        max: 1000,
        example: 'if known',
      },
      place('height_mm', 'Height on the board'),
      ...outlineSpecs(''),
    ],
  },
];

export const materials = [
  ['polyimide', 'polyimide film'],
  ['aluminium', 'aluminium'],
  ['copper', 'copper'],
  ['graphite', 'graphite sheet'],
  ['foam', 'foam'],
  ['tape', 'tape'],
  ['paper', 'paper'],
  ['air', 'air gap'],
  ['other', 'other'],
] as const;

export const layerGroups: readonly FieldGroup[] = [
  {
    specs: [
      { kind: 'choice', key: 'material', label: 'Material', options: materials, required: true },
      { kind: 'text', key: 'name', label: 'Name', required: true, maxLength: 120 },
      length('thickness_mm', 'Thickness'),
    ],
  },
];

/** Fields most layers go without; they are folded away until asked for. */
export const layerExtraGroups: readonly FieldGroup[] = [
  {
    title: 'Strips, evenly spaced along the device',
    optional: true,
    specs: [
      {
        kind: 'number',
        key: 'strips.count',
        label: 'How many',
        min: 1,
        max: 40,
        whole: true,
        required: true,
      },
      length('strips.width_mm', 'Width of each'),
    ],
  },
  { title: 'Outline, where it is not the pack’s', optional: true, specs: outlineSpecs('outline.') },
];

const levels = [
  ['prefer', 'prefer'],
  ['wear', 'wear'],
  ['stop', 'stop'],
] as const;

const states = [
  ['charging', 'charging'],
  ['discharging', 'in use'],
  ['stored', 'stored'],
  ['any', 'always'],
] as const;

const places = [
  ['cell', 'cell face'],
  ['zone', 'zone'],
  ['touch', 'outer shell'],
] as const;

export function limitGroups(
  zones: readonly { readonly id: string; readonly name: string }[],
  where: unknown,
): readonly FieldGroup[] {
  const options = zones.map((zone) => [zone.id, zone.name] as const);
  const zone: FieldSpec = { kind: 'choice', key: 'zone', label: 'Zone', options, none: 'any zone' };
  return [
    {
      specs: [
        { kind: 'choice', key: 'where', label: 'Where', options: places, required: true },
        ...(where === 'zone' ? [zone] : []),
        { kind: 'choice', key: 'state', label: 'When', options: states, required: true },
        { kind: 'number', key: 'limit_C', label: 'Limit', unit: '°C', min: -60, max: 300, required: true },
        { kind: 'choice', key: 'level', label: 'Level', options: levels, required: true },
        {
          kind: 'text',
          key: 'source',
          label: 'Source',
          required: true,
          size: 'wide',
          maxLength: 400,
          suggestions: ['maker’s sheet of the pack', 'common practice, no source'],
        },
      ],
    },
  ];
}

export const ambientGroups: readonly FieldGroup[] = [
  {
    specs: [
      {
        kind: 'number',
        key: 'ambient_C',
        label: 'Hottest day to be ready for',
        unit: '°C',
        min: -60,
        max: 300,
        required: true,
        size: 'half',
      },
      { kind: 'text', key: 'source', label: 'Where that figure comes from', size: 'wide', maxLength: 400 },
    ],
  },
];

export const dutyGroups: readonly FieldGroup[] = [
  {
    specs: [
      {
        kind: 'number',
        key: 'load_h_per_day',
        label: 'At load, a day',
        unit: 'h',
        min: 0,
        max: 24,
        required: true,
      },
      {
        kind: 'number',
        key: 'idle_h_per_day',
        label: 'Idle, a day',
        unit: 'h',
        min: 0,
        max: 24,
        required: true,
      },
      {
        kind: 'number',
        key: 'ambient_C',
        label: 'Ambient in use',
        unit: '°C',
        min: -60,
        max: 300,
        required: true,
      },
      {
        kind: 'number',
        key: 'rest_C',
        label: 'Where it lies at rest',
        unit: '°C',
        min: -60,
        max: 300,
        required: true,
      },
    ],
  },
];
