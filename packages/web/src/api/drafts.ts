import type { Build } from '@soakbench/core/records';

/** A build with edits the server has not confirmed, kept by the browser in case the page closes first. */
export interface Draft {
  /** The revision the edits were made on. */
  readonly revision: number;
  readonly build: Build;
}

export interface DraftShelf {
  read(id: string): Draft | null;
  write(id: string, draft: Draft): void;
  clear(id: string): void;
}

const keyOf = (id: string) => `soakbench:draft:${id}`;

/** Drafts in the browser's own storage. Where it is full or forbidden, the page works on without this second net. */
export const browserDrafts: DraftShelf = {
  read: (id) => {
    try {
      const text = localStorage.getItem(keyOf(id));
      return text === null ? null : (JSON.parse(text) as Draft);
    } catch {
      return null;
    }
  },
  write: (id, draft) => {
    try {
      localStorage.setItem(keyOf(id), JSON.stringify(draft));
    } catch {
      // The edit queue still holds the edit; only a crash right now would lose it.
    }
  },
  clear: (id) => {
    try {
      localStorage.removeItem(keyOf(id));
    } catch {
      // Nothing was stored either.
    }
  },
};
