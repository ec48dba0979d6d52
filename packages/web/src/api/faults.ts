import { BadInputError, type Fault } from '@soakbench/core/measure';

/** The server's "no", with the same faults it would print on the command line. */
export class RefusedError extends Error {
  override readonly name = 'RefusedError';
  readonly status: number;
  readonly faults: readonly Fault[];

  constructor(status: number, faults: readonly Fault[]) {
    super(faults.map((fault) => `${fault.where}: ${fault.what} ${fault.remedy}`).join('\n'));
    this.status = status;
    this.faults = faults;
  }
}

/** No answer at all: the server has ended, or the machine has lost it. What was typed stays in the page. */
export class UnreachableError extends Error {
  override readonly name = 'UnreachableError';
}

/** Whatever went wrong, as faults a page can show. */
export function faultsOf(error: unknown): readonly Fault[] {
  if (error instanceof RefusedError || error instanceof BadInputError) return error.faults;
  if (error instanceof UnreachableError) {
    return [
      {
        where: 'Soakbench itself',
        what: 'does not answer.',
        remedy:
          'Start it again in its terminal. What you typed stays in this page and is kept as soon as it answers.',
      },
    ];
  }
  const what = error instanceof Error ? error.message : String(error);
  return [
    { where: 'This page', what: `met an error it does not know: ${what}.`, remedy: 'Reload the page.' },
  ];
}
