import { formatList } from '@soakbench/core/measure';
import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { ChoiceField, NumberField, RowsField, TextField } from './fields.js';
import { clearFormDrafts, formDraft, keepFormDraft } from './form-drafts.js';
import { LevelShape } from './level.js';
import {
  type FieldGroup,
  type FieldSpec,
  missingFields,
  type Rec,
  readPath,
  writePath,
} from './record-spec.js';

/** The fields of a record, or how they follow from what is entered. */
export type GroupsOf = readonly FieldGroup[] | ((record: Rec) => readonly FieldGroup[]);

interface RecordFormProps {
  /** Under this key an incomplete record waits. */
  readonly draftKey: string;
  /** Which fields there are may depend on what stands in others. */
  readonly groups: GroupsOf;
  /** The record as it is kept; null where there is none yet. */
  readonly stored: Rec | null;
  /** Called with a complete record each time something in it was changed. */
  readonly onKeep: (record: Rec) => void;
  /** What else the record lacks, beyond its required fields. */
  readonly alsoMissing?: (record: Rec) => readonly string[];
  /** What changing one field brings with it, such as a name from a material. */
  readonly adjust?: (record: Rec, key: string) => Rec;
  /** Puts the cursor into the first field once, when the form appears. */
  readonly focusFirst?: boolean;
  /** Fields most records go without, folded away until they are asked for; the title says what stands in them. */
  readonly more?: { readonly title: (record: Rec) => string; readonly groups: readonly FieldGroup[] };
}

/** A record as fields. It is kept as soon as it is complete, and then with every further change; no button needed. */
export function RecordForm(props: RecordFormProps) {
  const { draftKey, groups, stored, onKeep, adjust, focusFirst, more, alsoMissing } = props;
  const groupsFor = (one: Rec) => (typeof groups === 'function' ? groups(one) : groups);
  const box = useRef<HTMLDivElement>(null);
  const draft = formDraft(draftKey);
  const record: Rec = draft ?? stored ?? {};
  const missingIn = (one: Rec) => [
    ...missingFields([...groupsFor(one), ...(more?.groups ?? [])], one),
    ...(alsoMissing?.(one) ?? []),
  ];
  const missing = draft ? missingIn(draft) : [];

  useLayoutEffect(() => {
    if (focusFirst) box.current?.querySelector<HTMLElement>('input, select, textarea')?.focus();
  }, [focusFirst]);

  const change = (key: string, value: unknown) => {
    const written = writePath(record, key, value);
    const next = adjust ? adjust(written, key) : written;
    if (missingIn(next).length > 0) {
      keepFormDraft(draftKey, next);
      return;
    }
    clearFormDrafts(draftKey);
    onKeep(next);
  };

  return (
    <div ref={box}>
      <Groups groups={groupsFor(record)} record={record} onChange={change} />
      {more && (
        <details class="fold" open={missingFields(more.groups, record).length > 0}>
          <summary>{more.title(record)}</summary>
          <Groups groups={more.groups} record={record} onChange={change} />
        </details>
      )}
      {draft && missing.length > 0 && (
        <p class="still" role="status">
          <LevelShape level="none" />
          <span>
            Still needed: {formatList(missing)}.{stored && ' Until then the last complete entry stands.'}
          </span>
        </p>
      )}
    </div>
  );
}

interface GroupsProps {
  readonly groups: readonly FieldGroup[];
  readonly record: Rec;
  readonly onChange: (key: string, value: unknown) => void;
}

function Groups({ groups, record, onChange }: GroupsProps) {
  return (
    <>
      {groups.map((group, index) => {
        const fields = group.specs.map((spec) => (
          <SpecField
            key={spec.key}
            spec={spec}
            record={record}
            onValue={(value) => onChange(spec.key, value)}
          />
        ));
        const key = group.title ?? index;
        if (group.folded) {
          const isFilled = group.specs.some((spec) => readPath(record, spec.key) !== undefined);
          return (
            <GroupFold key={key} title={group.title ?? ''} isFilled={isFilled}>
              {fields}
            </GroupFold>
          );
        }
        return (
          <fieldset class="fields" key={key}>
            {group.title && <legend>{group.title}</legend>}
            {fields}
          </fieldset>
        );
      })}
    </>
  );
}

interface GroupFoldProps {
  readonly title: string;
  readonly isFilled: boolean;
  readonly children: ComponentChildren;
}

/** A group behind its title. Once it was open it stays so: emptying a field must not shut it on whoever stands in it. */
function GroupFold({ title, isFilled, children }: GroupFoldProps) {
  const wasFilled = useRef(isFilled);
  if (isFilled) wasFilled.current = true;
  return (
    <details class="fold" open={wasFilled.current}>
      <summary>{title}</summary>
      <fieldset class="fields" aria-label={title}>
        {children}
      </fieldset>
    </details>
  );
}

interface SpecFieldProps {
  readonly spec: FieldSpec;
  readonly record: Rec;
  readonly onValue: (value: unknown) => void;
}

function SpecField({ spec, record, onValue }: SpecFieldProps) {
  const value = readPath(record, spec.key);
  const hint = spec.hint ?? (value === undefined ? spec.example : undefined);
  if (spec.kind === 'number')
    return <NumberField {...spec} hint={hint} value={value as number | undefined} onValue={onValue} />;
  if (spec.kind === 'text')
    return <TextField {...spec} hint={hint} value={value as string | undefined} onValue={onValue} />;
  if (spec.kind === 'rows') return <RowsField {...spec} hint={hint} value={value} onValue={onValue} />;
  return <ChoiceField {...spec} hint={hint} value={value as string | undefined} onValue={onValue} />;
}
