import type { BandView, CourseView } from '../drawing/index.js';
import type { LifeForecast } from './forecast/forecast-life.js';
import { yearsRange } from './life-words.js';
import { presentCapacityBands } from './present-life-plots.js';
import type { YearView } from './present-year.js';

/** Capacity over the years in each set-up, as bands for a drawing. */
export function presentBandChart(forecast: LifeForecast, chosen?: string | null): BandView {
  const bands = presentCapacityBands(forecast);
  const lowest = Math.min(80, ...bands.flatMap(({ points }) => points.map(({ thin }) => thin[0])));
  return {
    label: `Capacity over the years. ${bands.map(({ words }) => words).join(' ')}`,
    unit: '%',
    atUnit: 'years',
    level: 80,
    // Nobody uses a pack that has lost more than half; a band that falls below goes out of the picture.
    range: [Math.max(40, 10 * Math.floor(lowest / 10)), 100],
    panels: bands.map(({ setup, name, points }, index) => ({
      name,
      figure: `80 % after ${yearsRange(forecast.setups[index]?.years ?? { p05: 0, p95: 0 })}`,
      isChosen: setup === chosen,
      points: points.map(({ year, thin, thick }) => ({ at: year, thin, thick })),
    })),
  };
}

const months = ['J', 'F', 'M', 'A', 'M', 'J', 'J', 'A', 'S', 'O', 'N', 'D'] as const;
const namedHours = [0, 6, 12, 18] as const;

/** The year by months and a day by hours, as a drawing: room, cell and charge. */
export function presentYearChart({ months: year, day, words }: YearView): CourseView {
  return {
    label: words,
    panels: [
      {
        title: 'Through the year, by month',
        lines: [
          { words: 'warmest', look: 'peak', values_C: year.map(({ warmest_C }) => warmest_C) },
          { words: 'cell, mean', look: 'cell', values_C: year.map(({ cell_C }) => cell_C) },
          { words: 'room', look: 'room', values_C: year.map(({ room_C }) => room_C) },
        ],
        charge: year.map(({ charge }) => charge),
        marks: months.map((name, at) => ({ at, words: name })),
      },
      {
        title: 'A day in July, by hour',
        lines: [{ words: 'cell', look: 'cell', values_C: day.map(({ cell_C }) => cell_C) }],
        charge: day.map(({ charge }) => charge),
        marks: namedHours.map((hour) => ({ at: hour, words: String(hour) })),
      },
    ],
  };
}
