/**
 * Records that are not complete yet. A zone without a width cannot be part of the build, but what was typed of it
 * must not be lost either: it waits here, also across a reload, until the rest is there.
 */
import { signal } from '@preact/signals';

export type Draft = Readonly<Record<string, unknown>>;

const storageKey = 'soakbench:forms';

function readAll(): Readonly<Record<string, Draft>> {
  try {
    return JSON.parse(sessionStorage.getItem(storageKey) ?? '{}') as Record<string, Draft>;
  } catch {
    return {};
  }
}

const drafts = signal<Readonly<Record<string, Draft>>>(readAll());

/** The incomplete record under this key; null where there is none. Reading it inside a component follows it. */
export function formDraft(key: string): Draft | null {
  return drafts.value[key] ?? null;
}

export function keepFormDraft(key: string, record: Draft): void {
  store({ ...drafts.value, [key]: record });
}

/** Forgets the drafts under this key and every key that begins with it. */
export function clearFormDrafts(key: string): void {
  const left = Object.entries(drafts.value).filter(
    ([other]) => other !== key && !other.startsWith(`${key}/`),
  );
  store(Object.fromEntries(left));
}

/** Draft key of the item at a place in a list; the place behind the last one is the new item's. */
export function placeKey(list: string, index: number): string {
  return `${list}/${index}`;
}

/**
 * Forgets half-done changes to the items of a list whose places are about to change; a new item that is being
 * entered stays, and follows the end of the list.
 *
 * @param count items in the list before the change
 * @param countAfter items after it
 */
export function shiftFormDrafts(list: string, count: number, countAfter: number): void {
  const fresh = drafts.value[placeKey(list, count)];
  clearFormDrafts(list);
  if (fresh) keepFormDraft(placeKey(list, countAfter), fresh);
}

function store(next: Readonly<Record<string, Draft>>): void {
  drafts.value = next;
  try {
    sessionStorage.setItem(storageKey, JSON.stringify(next));
  } catch {
    // A full or forbidden storage costs only what a reload would lose.
  }
}
