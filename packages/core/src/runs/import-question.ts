import type { Recipe } from '../records/index.js';

/** What the file alone does not settle. The recipe holds a stated provisional choice until a person answers. */
export interface ImportQuestion {
  /** The part of the recipe it concerns, such as `time.order`. */
  readonly field: string;
  readonly question: string;
  readonly options: readonly ImportOption[];
  /** The option the recipe holds for now, counted from 0. */
  readonly chosen: number;
}

export interface ImportOption {
  readonly label: string;
  /** What the answer changes in the recipe: paths such as `channels.2.unit`, and their new values; null takes the field out. */
  readonly set: Readonly<Record<string, unknown>>;
}

/** The recipe after an answer. Answers to different questions can be applied one after the other. */
export function applyOption(recipe: Recipe, option: ImportOption): Recipe {
  let changed: unknown = recipe;
  for (const [path, value] of Object.entries(option.set))
    changed = withValue(changed, path.split('.'), value);
  return changed as Recipe;
}

function withValue(whole: unknown, [step, ...rest]: readonly string[], value: unknown): unknown {
  if (step === undefined) return value;
  if (Array.isArray(whole))
    return whole.map((part, index) => (String(index) === step ? withValue(part, rest, value) : part));
  const record = (typeof whole === 'object' && whole !== null ? whole : {}) as Record<string, unknown>;
  const part = withValue(record[step], rest, value);
  if (part !== null) return { ...record, [step]: part };
  const { [step]: _removed, ...others } = record;
  return others;
}
