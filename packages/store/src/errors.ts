/** Somebody else changed the build since the caller read it. Nothing was written. */
export class RevisionConflictError extends Error {
  override readonly name = 'RevisionConflictError';
  readonly build: string;
  readonly expected: number;
  readonly actual: number;

  constructor(build: string, expected: number, actual: number) {
    super(
      `The build "${build}" has moved on to revision ${actual}; this change was made to revision ${expected}. Load it again and repeat the change. Nothing was changed.`,
    );
    this.build = build;
    this.expected = expected;
    this.actual = actual;
  }
}

/** The store holds no such build, or it was removed. */
export class UnknownBuildError extends Error {
  override readonly name = 'UnknownBuildError';
  readonly build: string;

  constructor(build: string) {
    super(`There is no build "${build}".`);
    this.build = build;
  }
}

/** There is no earlier (or later) state of the build to go to. */
export class NoSuchStepError extends Error {
  override readonly name = 'NoSuchStepError';
  readonly build: string;

  constructor(build: string, direction: 'undo' | 'redo') {
    super(`There is nothing to ${direction} in the build "${build}".`);
    this.build = build;
  }
}
