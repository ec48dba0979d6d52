import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { ForecastOptions } from '@soakbench/core/verdict';

const ranges = { draws: [10, 100_000], seed: [1, 2_147_483_646] } as const;

function readWhole(
  name: keyof typeof ranges,
  typed: string | undefined,
  faults: Fault[],
): number | undefined {
  if (typed === undefined) return undefined;
  const [low, high] = ranges[name];
  const value = /^\d{1,12}$/.test(typed.trim()) ? Number(typed.trim()) : Number.NaN;
  if (value >= low && value <= high) return value;
  faults.push({
    where: `--${name}`,
    what: `"${typed}" is no whole number from ${low} to ${high}.`,
    remedy: `Give one, as in --${name} ${name === 'draws' ? 2000 : 7}`,
  });
  return undefined;
}

/** @throws BadInputError naming every option that is wrong */
export function readLifeOptions(
  build: Pick<Build, 'setups'>,
  typed: {
    readonly setup: string | undefined;
    readonly draws: string | undefined;
    readonly seed: string | undefined;
  },
): { readonly setup: string | undefined; readonly options: ForecastOptions } {
  const faults: Fault[] = [];
  const draws = readWhole('draws', typed.draws, faults);
  const seed = readWhole('seed', typed.seed, faults);
  if (typed.setup !== undefined && !build.setups.some(({ id }) => id === typed.setup)) {
    faults.push({
      where: '--setup',
      what: `There is no set-up "${typed.setup}".`,
      remedy: `Use one of: ${build.setups.map(({ id }) => id).join(', ')}.`,
    });
  }
  if (faults.length > 0) throw new BadInputError(faults);
  return {
    setup: typed.setup,
    options: { ...(draws === undefined ? {} : { draws }), ...(seed === undefined ? {} : { seed }) },
  };
}
