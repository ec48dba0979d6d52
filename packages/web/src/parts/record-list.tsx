import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { clearFormDrafts, formDraft, keepFormDraft, placeKey, shiftFormDrafts } from './form-drafts.js';
import { type GroupsOf, RecordForm } from './record-form.js';
import type { Rec } from './record-spec.js';

interface RecordListProps<T extends Rec> {
  /** One of them: "zone". */
  readonly noun: string;
  readonly draftKey: string;
  readonly items: readonly T[];
  readonly groups: GroupsOf;
  readonly title: (item: T, index: number) => ComponentChildren;
  readonly onAdd: (record: Rec) => void;
  readonly onKeep: (index: number, record: Rec) => void;
  readonly onRemove: (index: number) => void;
  /** Why an item cannot be removed; null where it can. */
  readonly held?: (item: T) => string | null;
  readonly alsoMissing?: (record: Rec) => readonly string[];
  readonly adjust?: (record: Rec, key: string) => Rec;
  /** What stands beneath an item's fields; `record` is the item with what is typed and not complete yet. */
  readonly below?: (item: T | null, index: number, record: Rec) => ComponentChildren;
  /** Fields a new record starts with, where the page knows them. */
  readonly start?: Rec;
}

/** Records of one kind, each with its fields, and a place to add the next one. */
export function RecordList<T extends Rec>(props: RecordListProps<T>) {
  const {
    noun,
    draftKey,
    items,
    groups,
    title,
    onAdd,
    onKeep,
    onRemove,
    held,
    adjust,
    alsoMissing,
    below,
    start = {},
  } = props;
  const [fresh, setFresh] = useState(-1);
  const keyAt = (index: number) => placeKey(draftKey, index);
  const adding = formDraft(keyAt(items.length)) !== null;
  // A new record keeps its place in the list when it becomes complete, so the cursor stays in the field it is in.
  const places: readonly (T | null)[] = adding ? [...items, null] : items;
  const recordAt = (index: number, item: T | null): Rec => formDraft(keyAt(index)) ?? item ?? {};

  return (
    <>
      {places.length > 0 && (
        <ul class="items">
          {places.map((item, index) => (
            <li key={index}>
              <div class="itemhead">
                <h3>{item ? title(item, index) : `New ${noun}`}</h3>
                <RemoveButton
                  noun={item ? noun : `new ${noun}`}
                  name={item ? String(item['name'] ?? index + 1) : ''}
                  why={item && held ? held(item) : null}
                  onRemove={() => {
                    if (!item) return clearFormDrafts(keyAt(index));
                    shiftFormDrafts(draftKey, items.length, items.length - 1);
                    return onRemove(index);
                  }}
                />
              </div>
              <RecordForm
                draftKey={keyAt(index)}
                groups={groups}
                stored={item}
                adjust={adjust}
                alsoMissing={alsoMissing}
                focusFirst={index === fresh}
                onKeep={(record) => (item ? onKeep(index, record) : onAdd(record))}
              />
              {below?.(item, index, recordAt(index, item))}
            </li>
          ))}
        </ul>
      )}
      {!adding && (
        <p class="btns">
          <button
            type="button"
            class="btn"
            onClick={() => {
              setFresh(items.length);
              keepFormDraft(keyAt(items.length), start);
            }}
          >
            Add {noun}
          </button>
        </p>
      )}
    </>
  );
}

interface RemoveButtonProps {
  readonly noun: string;
  readonly name: string;
  readonly why: string | null;
  readonly onRemove: () => void;
}

/** Removes at once, because undo brings it back; where something else needs the record, it says what. */
export function RemoveButton({ noun, name, why, onRemove }: RemoveButtonProps) {
  if (why !== null) return <span class="small">{why}</span>;
  return (
    <button type="button" class="quiet" onClick={onRemove}>
      Remove<span class="vh"> {`${noun} ${name}`.trim()}</span>
    </button>
  );
}
