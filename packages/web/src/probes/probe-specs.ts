import { usualAttachment_K } from '@soakbench/core/probes';
import type { Probe, Zone } from '@soakbench/core/records';
import type { FieldGroup, FieldSpec, Rec } from '../parts/record-spec.js';
import { adjustSensor, sensorSpecs } from './sensor-specs.js';

const places = [
  ['zone', 'on a zone'],
  ['cell', 'on a face of the pack'],
  ['ambient', 'in the air of the room'],
  ['shell', 'on the shell'],
] as const satisfies readonly (readonly [Probe['place'], string])[];

/** The fields of a probe; which it has depends on where it sits. */
export function probeGroups(zones: readonly Zone[], form: Rec): readonly FieldGroup[] {
  const zone: FieldSpec = {
    kind: 'choice',
    key: 'zone',
    label: 'Zone',
    options: zones.map((one) => [one.id, one.name] as const),
    none: 'not said',
  };
  const cell: FieldSpec = {
    kind: 'number',
    key: 'cell',
    label: 'Cell',
    min: 1,
    max: 400,
    whole: true,
    hint: 'counted from 1',
  };
  const spot: readonly FieldSpec[] =
    form['place'] === 'ambient'
      ? []
      : [
          { kind: 'number', key: 'x_mm', label: 'From the left', unit: 'mm', min: 0, max: 2000 },
          { kind: 'number', key: 'y_mm', label: 'From below', unit: 'mm', min: 0, max: 2000 },
        ];
  return [
    {
      specs: [
        {
          kind: 'text',
          key: 'name',
          label: 'Name',
          required: true,
          maxLength: 120,
          example: 'as the logger calls it',
        },
        {
          kind: 'choice',
          key: 'place',
          label: 'Where it sits',
          options: places,
          required: true,
          size: 'half',
        },
        ...(form['place'] === 'zone' ? [zone] : []),
        ...(form['place'] === 'cell' ? [cell] : []),
        ...spot,
        {
          kind: 'number',
          key: 'resolution_K',
          label: 'Smallest step',
          unit: 'K',
          min: 0,
          max: 5,
          hint: 'of display or log',
        },
        {
          kind: 'number',
          key: 'maker_u_K',
          label: 'Doubt unchecked',
          unit: 'K',
          min: 0,
          max: 50,
          hint: 'u, data sheet',
        },
        ...held(form),
        { kind: 'text', key: 'note', label: 'Note', maxLength: 4000, size: 'half' },
      ],
    },
    { specs: sensorSpecs(form) },
  ];
}

/** How well the junction follows its surface; a probe in the air has none to follow. */
function held(form: Rec): readonly FieldSpec[] {
  if (form['place'] === 'ambient') return [];
  return [
    {
      kind: 'number',
      key: 'attachment_u_K',
      label: 'Doubt of its hold',
      unit: 'K',
      min: 0,
      max: 50,
      hint: `u; ${usualAttachment_K} if not said`,
    },
  ];
}

/** A probe that is moved elsewhere loses what only its old place had; likewise one of another kind of sensor. */
export function adjustProbe(form: Rec, key: string): Rec {
  if (key !== 'place') return adjustSensor(form, key);
  const gone = new Set([
    ...(form['place'] === 'zone' ? [] : ['zone']),
    ...(form['place'] === 'cell' ? [] : ['cell']),
    ...(form['place'] === 'ambient' ? ['x_mm', 'y_mm', 'attachment_u_K'] : []),
  ]);
  return Object.fromEntries(Object.entries(form).filter(([field]) => !gone.has(field)));
}
