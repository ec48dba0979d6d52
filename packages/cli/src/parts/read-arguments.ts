import { parseArgs } from 'node:util';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { OperandSpecs, OptionSpecs } from './action.js';
import { findNearest } from './find-nearest.js';

interface Spec {
  readonly words: string;
  readonly operands: OperandSpecs;
  readonly options: OptionSpecs;
}

type Values = Record<string, string | boolean | readonly (string | boolean)[] | undefined>;

/** Operands and options by name. @throws BadInputError naming every argument that does not fit */
export function readArguments(
  spec: Spec,
  argv: readonly string[],
): { operands: Record<string, string | undefined>; options: Values } {
  const help = `See: npx soakbench ${spec.words} --help`;
  let parsed: { values: Values; positionals: string[] };
  try {
    parsed = parseArgs({
      args: [...argv],
      options: Object.fromEntries(
        Object.entries(spec.options).map(([name, { type, multiple }]) => [
          name,
          { type, multiple: multiple ?? false },
        ]),
      ),
      allowPositionals: true,
      strict: true,
    });
  } catch (error) {
    throw new BadInputError([optionFault(error as NodeJS.ErrnoException, argv, spec.options, help)]);
  }
  const names = Object.entries(spec.operands);
  const faults: Fault[] = names
    .slice(parsed.positionals.length)
    .filter(([, { optional }]) => !optional)
    .map(([name, { about }]) => ({ where: name, what: `Missing: ${about}.`, remedy: help }));
  for (const extra of parsed.positionals.slice(names.length)) {
    faults.push({ where: extra, what: 'This is one argument too many.', remedy: help });
  }
  if (faults.length > 0) throw new BadInputError(faults);
  return {
    operands: Object.fromEntries(names.map(([name], at) => [name, parsed.positionals[at]])),
    options: Object.fromEntries(
      Object.entries(spec.options).map(([name, { type, multiple }]) => [
        name,
        parsed.values[name] ?? (type === 'boolean' ? false : multiple ? [] : undefined),
      ]),
    ),
  };
}

function optionFault(
  error: NodeJS.ErrnoException,
  argv: readonly string[],
  options: OptionSpecs,
  help: string,
): Fault {
  if (error.code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') {
    const name = /'(-[^']*)'/.exec(error.message)?.[1] ?? argv.find((word) => word.startsWith('-')) ?? '';
    const nearest = findNearest(name.replace(/^-+/, ''), Object.keys(options));
    return {
      where: name,
      what: 'There is no such option here.',
      remedy: nearest === undefined ? help : `Did you mean --${nearest}? ${help}`,
    };
  }
  const name = /'(?:-\w, )?(--[\w-]+)/.exec(error.message)?.[1];
  if (error.code === 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE' && name !== undefined) {
    const { type, value = 'VALUE' } = options[name.slice(2)] ?? { type: 'string' };
    return type === 'boolean'
      ? { where: name, what: 'This option takes no value.', remedy: `Write ${name} alone. ${help}` }
      : {
          where: name,
          what: 'Its value is missing.',
          remedy: `Write ${name} ${value}, or ${name}=${value} where the value begins with a hyphen.`,
        };
  }
  return { where: name ?? 'command line', what: error.message, remedy: help };
}
