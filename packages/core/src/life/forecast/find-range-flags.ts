import type { FamilyMember } from '../models/model-family.js';
import type { PreparedLife } from './forecast-input.js';

/** A model asked beyond where its cells were tested: allowed, and said. */
export interface RangeFlag {
  readonly model: string;
  readonly quantity: 'temperature' | 'charge' | 'rate' | 'time';
  /** Share of the year spent beyond; of the horizon, for time. */
  readonly share: number;
  readonly words: string;
}

/** Less than this of a year beyond a range is not worth a flag. */
const least = 0.01;

function rangeWords([low, high]: readonly [number, number]): string {
  return low === high ? `${low}` : `${low} to ${high}`;
}

/** Looks where the first set-up's first cell goes in a year, and which models were never tested there. */
export function findRangeFlags(prepared: PreparedLife, family: readonly FamilyMember[]): RangeFlag[] {
  const { condensed, rises, input } = prepared;
  const horizon_d = 365 * (input.horizon_years ?? 5);
  const days = (holds: (cell_C: number, charge: number) => boolean) =>
    condensed.rests.reduce((sum, { state, days: span, room_C, charge }) => {
      const cell_C = room_C + (rises[0]?.[state]?.[0]?.value ?? 0);
      return sum + (holds(cell_C, charge) ? span : 0);
    }, 0) / 365;
  const percent = (share: number) => `${Math.max(1, Math.round(100 * share))} %`;
  return family.flatMap(({ model }) => {
    const { temperature_C, charge, rate, most_d } = model.range;
    const flags: RangeFlag[] = [];
    const add = (quantity: RangeFlag['quantity'], share: number, words: string) => {
      if (share >= least) flags.push({ model: model.id, quantity, share, words });
    };
    const beyondTemperature = days((cell_C) => cell_C < temperature_C[0] || cell_C > temperature_C[1]);
    add(
      'temperature',
      beyondTemperature,
      `${model.title}: ${percent(beyondTemperature)} of the year the cell is away from the ${rangeWords(temperature_C)} °C it was tested at.`,
    );
    const beyondCharge = days((_, at) => at < charge[0] || at > charge[1]);
    add(
      'charge',
      beyondCharge,
      `${model.title}: ${percent(beyondCharge)} of the year the charge is away from the ${rangeWords([100 * charge[0], 100 * charge[1]])} % it was tested at.`,
    );
    if (rate) {
      const beyondRate = condensed.draws.reduce(
        (sum, draw) => sum + (draw.rate < rate[0] || draw.rate > rate[1] ? draw.share : 0),
        0,
      );
      add(
        'rate',
        beyondRate,
        `${model.title}: ${percent(beyondRate)} of the charge is drawn at another rate than the ${rate[0]} to ${rate[1]} of its capacity per hour it was tested at.`,
      );
    }
    if (horizon_d > most_d)
      add(
        'time',
        1 - most_d / horizon_d,
        `${model.title}: tested for ${(most_d / 365).toFixed(1)} years; beyond that its curve is drawn on.`,
      );
    return flags;
  });
}
