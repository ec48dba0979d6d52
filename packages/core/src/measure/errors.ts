/** The caller gave a number outside the range a formula or a record allows. */
export class OutOfRangeError extends RangeError {
  override readonly name = 'OutOfRangeError';
  readonly fault: {
    readonly parameter: string;
    readonly value: number;
    readonly allowed: readonly [number, number];
  };

  constructor(parameter: string, value: number, allowed: readonly [number, number], hint = '') {
    super(`${parameter} must lie in [${allowed.join(', ')}], received ${value}. ${hint}`.trimEnd());
    this.fault = { parameter, value, allowed };
  }
}

/** One thing that is wrong with what a person gave us: where it is, what it is, what to do about it. */
export interface Fault {
  /** File, with `:line` where there is one, or the path of a field such as `runs[2].setup`. */
  readonly where: string;
  readonly what: string;
  readonly remedy: string;
}

/** Bad input. Faults in one file or record come together, so a person mends them in one go. */
export class BadInputError extends Error {
  override readonly name = 'BadInputError';
  readonly faults: readonly Fault[];

  constructor(faults: readonly Fault[]) {
    super(faults.map((fault) => `${fault.where}: ${fault.what} ${fault.remedy}`.trimEnd()).join('\n'));
    this.faults = faults;
  }
}
