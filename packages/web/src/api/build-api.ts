import type { Build, Run } from '@soakbench/core/records';

/** A build as the server keeps it. */
export interface Stored {
  readonly build: Build;
  readonly revision: number;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
}

/** One row of the list of builds. */
export interface BuildSummary {
  readonly id: string;
  readonly name: string;
  readonly invented: boolean;
  readonly revision: number;
  readonly updatedAt: string;
  readonly runs: number;
  /** False where what is kept of it is damaged. */
  readonly isReadable: boolean;
}

/** What a page asks of the server. Every call rejects with RefusedError or UnreachableError, never with anything else. */
export interface BuildApi {
  builds(): Promise<readonly BuildSummary[]>;
  addBuild(name: string): Promise<Stored>;
  build(id: string): Promise<Stored>;
  saveBuild(build: Build, revision: number, what: string): Promise<Stored>;
  removeBuild(id: string): Promise<void>;
  restoreBuild(id: string): Promise<Stored>;
  undo(id: string, revision: number): Promise<Stored>;
  redo(id: string, revision: number): Promise<Stored>;
  importRun(id: string, revision: number, run: Run, file: string, log: Blob): Promise<Stored>;
  log(id: string, file: string): Promise<Uint8Array>;
}
