import { type ExploreWish, type Family, families, type Stock, usualWish } from '@soakbench/core/heat';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import { readNumber } from '../parts/read-number.js';

export interface WishOptions {
  readonly 'budget-mm': string | undefined;
  readonly 'reserve-mm': string | undefined;
  readonly material: readonly string[];
  readonly price: readonly string[];
  readonly family: readonly string[];
  readonly 'most-mass-g': string | undefined;
  readonly 'most-price': string | undefined;
  readonly most: string | undefined;
  readonly charging: boolean;
  readonly 'load-W': string | undefined;
}

/** What is looked for, as typed; what is not typed is the usual. @throws BadInputError naming every word that cannot be */
export function readWish(options: WishOptions): ExploreWish {
  const faults: Fault[] = [];
  const number = (option: string, typed: string | undefined, unit: string) =>
    readNumber(option, typed, unit, faults) ?? null;
  const stock = options.material.length === 0 ? usualWish.stock : readStock(options.material, faults);
  const wish: ExploreWish = {
    ...usualWish,
    budget_mm: number('--budget-mm', options['budget-mm'], 'millimetres'),
    reserve_mm: number('--reserve-mm', options['reserve-mm'], 'millimetres'),
    stock: addPrices(stock, options.price, faults),
    families: options.family.length === 0 ? usualWish.families : readFamilies(options.family, faults),
    mostMass_g: number('--most-mass-g', options['most-mass-g'], 'grams'),
    mostPrice: number('--most-price', options['most-price'], 'your money'),
    most: number('--most', options.most, 'set-ups') ?? usualWish.most,
    use: { charging: options.charging, load_W: number('--load-W', options['load-W'], 'watts') },
  };
  if (faults.length > 0) throw new BadInputError(faults);
  return wish;
}

/** `copper` with its usual thicknesses, `copper=0.2,0.5` with these. */
function readStock(typed: readonly string[], faults: Fault[]): Stock[] {
  return typed.flatMap((words): Stock[] => {
    const [material = '', thicknesses] = words.split('=');
    const where = `--material ${words}`;
    if (thicknesses === undefined) {
      const usual = usualWish.stock.find((each) => each.material === material);
      if (usual !== undefined) return [usual];
      faults.push({
        where,
        what: `Which sheets of ${material} there are is not known.`,
        remedy: `Say how thick they are, as in --material ${material}=0.3,0.5`,
      });
      return [];
    }
    return [{ material, thicknesses_mm: thicknesses.split(',').map(Number) }];
  });
}

function addPrices(stock: readonly Stock[], typed: readonly string[], faults: Fault[]): Stock[] {
  const prices = new Map<string, number>();
  for (const words of typed) {
    const [material = '', price = ''] = words.split('=');
    const value = readNumber(`--price ${words}`, price, 'your money for a square metre', faults);
    if (!stock.some((each) => each.material === material))
      faults.push({
        where: `--price ${words}`,
        what: `${material} is not among the materials at hand.`,
        remedy: `Use one of: ${stock.map((each) => each.material).join(', ')}.`,
      });
    else if (value !== undefined) prices.set(material, value);
  }
  return stock.map((each) => {
    const price_per_m2 = prices.get(each.material);
    return price_per_m2 === undefined ? each : { ...each, price_per_m2 };
  });
}

function readFamilies(typed: readonly string[], faults: Fault[]): Family[] {
  return typed.flatMap((word) => {
    const family = families.find((each) => each === word);
    if (family !== undefined) return [family];
    faults.push({
      where: `--family ${word}`,
      what: 'There is no such kind of set-up.',
      remedy: `Use some of: ${families.join(', ')}.`,
    });
    return [];
  });
}
