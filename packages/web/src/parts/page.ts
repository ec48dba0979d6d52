import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';

/** Changes the build and keeps the change. `what` names it for undo: "Correct phases of run 3". */
export type Edit = (what: string, change: (build: Build) => Build) => void;

/** What every page of a build is given: it presents and composes, it never fetches or computes. */
export interface PageProps {
  readonly build: Build;
  /** Null until the first computation is done. While a newer one runs, this is still the last one. */
  readonly assessment: Assessment | null;
  readonly edit: Edit;
}
