/** What a person can ask for: one action, with its operands, options, help and a worked example. */
import { readArguments } from './read-arguments.js';

/** 0 holds, 1 a limit fails or nothing could be judged, 2 bad input, 70 a fault of the program itself, 130 stopped with Ctrl-C. */
export type ExitCode = 0 | 1 | 2 | 70 | 130;

export interface OperandSpec {
  readonly about: string;
  readonly optional?: true;
}

export interface OptionSpec {
  readonly type: 'string' | 'boolean';
  readonly multiple?: true;
  /** Shown in the usage line; the action itself says what is missing, and why it is needed. */
  readonly required?: true;
  /** What stands for the value in the help, such as `FILE`. */
  readonly value?: string;
  readonly about: string;
}

export type OperandSpecs = Readonly<Record<string, OperandSpec>>;
export type OptionSpecs = Readonly<Record<string, OptionSpec>>;

export type Operands<P extends OperandSpecs> = {
  readonly [K in keyof P]: P[K] extends { optional: true } ? string | undefined : string;
};

export type Options<O extends OptionSpecs> = {
  readonly [K in keyof O]: O[K] extends { type: 'boolean' }
    ? boolean
    : O[K] extends { multiple: true }
      ? readonly string[]
      : string | undefined;
};

interface ActionSpec<P extends OperandSpecs, O extends OptionSpecs> {
  /** As typed: `runs import`. */
  readonly words: string;
  readonly about: string;
  /** In the order of the command line. */
  readonly operands: P;
  readonly options: O;
  /** Commands that run as they stand in the repository, and what each shows. */
  readonly examples: readonly { readonly command: string; readonly shows: string }[];
  run(operands: Operands<P>, options: Options<O>): ExitCode | Promise<ExitCode>;
}

export interface Action extends Omit<ActionSpec<OperandSpecs, OptionSpecs>, 'run'> {
  run(argv: readonly string[]): ExitCode | Promise<ExitCode>;
}

export function defineAction<const P extends OperandSpecs, const O extends OptionSpecs>(
  spec: ActionSpec<P, O>,
): Action {
  return {
    ...spec,
    run(argv) {
      const { operands, options } = readArguments(spec, argv);
      return spec.run(operands as Operands<P>, options as Options<O>);
    },
  };
}

/** The option that every answering action has. */
export const jsonOption = {
  type: 'boolean',
  about: 'print the answer as JSON, see docs/cli.md',
} as const;
