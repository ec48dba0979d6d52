/** What a form must know of a record's fields: enough to draw them, and to tell when the record is complete. */
import type { NumberRange } from './fields.js';
import type { FieldUnit } from './quantity.js';

interface SpecBase {
  /** Path of the field in the record, such as `board.length_mm`. */
  readonly key: string;
  readonly label: string;
  readonly hint?: string;
  /** What one would write here; shown until something is written. */
  readonly example?: string;
  readonly size?: 'half' | 'wide';
  readonly required?: boolean;
}

export type FieldSpec =
  | (SpecBase & NumberRange & { readonly kind: 'number'; readonly unit?: FieldUnit })
  | (SpecBase & {
      readonly kind: 'text';
      readonly lines?: number;
      readonly maxLength?: number;
      readonly suggestions?: readonly string[];
    })
  | (SpecBase & {
      readonly kind: 'choice';
      readonly options: readonly (readonly [value: string, label: string])[];
      readonly none?: string;
    });

export interface FieldGroup {
  readonly title?: string;
  readonly specs: readonly FieldSpec[];
  /** All or nothing: the record may go without this part, but not with half of it. */
  readonly optional?: boolean;
}

export type Rec = Readonly<Record<string, unknown>>;

export function readPath(record: Rec, path: string): unknown {
  let value: unknown = record;
  for (const step of path.split('.')) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Rec)[step];
  }
  return value;
}

/** The record with one field set; with `undefined` the field is taken out, and so is a part that becomes empty. */
export function writePath(record: Rec, path: string, value: unknown): Rec {
  const [step, ...rest] = path.split('.') as [string, ...string[]];
  const { [step]: old, ...others } = record;
  if (rest.length === 0) return value === undefined ? others : { ...record, [step]: value };
  const part = writePath((typeof old === 'object' && old !== null ? old : {}) as Rec, rest.join('.'), value);
  return Object.keys(part).length === 0 ? others : { ...record, [step]: part };
}

/** Labels of the fields that still keep the record from being complete, in the order of the form. */
export function missingFields(groups: readonly FieldGroup[], record: Rec): readonly string[] {
  const isThere = (spec: FieldSpec) => readPath(record, spec.key) !== undefined;
  return groups.flatMap((group) => {
    if (group.optional && !group.specs.some(isThere)) return [];
    return group.specs
      .filter((spec) => spec.required && !isThere(spec))
      .map((spec) => spec.label.toLowerCase());
  });
}
