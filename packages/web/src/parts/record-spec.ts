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
    })
  /** A short table of two columns of numbers, a pair on each line. */
  | (SpecBase & {
      readonly kind: 'rows';
      readonly names: readonly [string, string];
      readonly least: number;
    });

export interface FieldGroup {
  readonly title?: string;
  readonly specs: readonly FieldSpec[];
  /** All or nothing: the record may go without this part, but not with half of it. */
  readonly optional?: boolean;
  /** Folded away, with its title to open it, until something stands in it. */
  readonly folded?: boolean;
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

/**
 * What one edit changed, laid on a newer state of the same record: fields the edit did not touch stay as they are now.
 * Two windows that write in two fields of one record so keep both.
 *
 * @param before the record the edit was made on
 * @param after the record the edit made of it
 * @param latest the record as it has become meanwhile
 */
export function layChange(before: Rec, after: Rec, latest: Rec): Rec {
  const result: Record<string, unknown> = { ...latest };
  for (const key of new Set([...Object.keys(before), ...Object.keys(after)])) {
    const [was, is] = [before[key], after[key]];
    if (JSON.stringify(was) === JSON.stringify(is)) continue;
    if (is === undefined) delete result[key];
    else
      result[key] = isPart(was) && isPart(is) && isPart(latest[key]) ? layChange(was, is, latest[key]) : is;
  }
  return result;
}

function isPart(value: unknown): value is Rec {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
