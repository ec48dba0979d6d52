import type { Margin } from '@soakbench/core/compare';
import { formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { heading, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { namesOf } from '../parts/words.js';

/** Up to which ambient every stop limit of the cells holds: set-ups down, states across. */
export function layCeilings(page: Page, build: Build, margins: readonly Margin[]): string[] {
  const stops = margins.filter(({ limit }) => limit.where === 'cell' && limit.level === 'stop');
  const setups = [...new Set(stops.map(({ setup }) => setup))];
  const states = [...new Set(stops.map(({ title }) => title))];
  if (setups.length === 0) return [];
  const ceiling = (setup: string, state: string) => {
    const here = stops.filter((margin) => margin.setup === setup && margin.title === state);
    const known = here.flatMap(({ highestAmbient_C }) =>
      highestAmbient_C === null ? [] : [highestAmbient_C],
    );
    return known.length < here.length || known.length === 0
      ? 'not measured'
      : formatNumber(Math.min(...known));
  };
  return [
    ...heading(page, 'Highest ambient at which the stop limits of the cells hold, °C'),
    ...layTable(
      page,
      [{ title: 'set-up' }, ...states.map((title) => ({ title, right: true }))],
      setups.map((setup) => [namesOf(build).setup(setup), ...states.map((state) => ceiling(setup, state))]),
    ),
    ...wrap(page, 'With 95 % coverage, for the load that was run and the spots where the probes sat.', '  '),
  ];
}
