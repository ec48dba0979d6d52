import type { Margin } from '@soakbench/core/compare';
import { decimalsFor, formatEstimate, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Page } from '../parts/page.js';
import { type Cell, layTable, type Row } from '../parts/table.js';
import { levelCell, namesOf } from '../parts/words.js';

const columns = [
  { title: '' },
  { title: 'expected °C', right: true },
  { title: 'limit °C', right: true },
  { title: '' },
  { title: 'margin K', right: true },
  { title: 'at least K', right: true },
  { title: 'up to °C', right: true },
  { title: '' },
];

/** Every limit of one set-up, by the state of the device. Units stand in the head, so that the figures line up. */
export function layMargins(page: Page, build: Build, margins: readonly Margin[]): string[] {
  const rows: Row[] = [];
  let state = '';
  let place = '';
  for (const margin of margins) {
    if (margin.title !== state) {
      state = margin.title;
      place = '';
      rows.push(state);
    }
    const here = placeOf(build, margin);
    // A place is named once in each state; its further limits stand below.
    rows.push(layMargin(margin, here === place ? '' : here));
    place = here;
  }
  return layTable(page, columns, rows);
}

function layMargin(margin: Margin, place: string): readonly Cell[] {
  const { expected_C, limit, margin_K, atLeast_K, highestAmbient_C, lowerBound, level } = margin;
  const bound = lowerBound ? '≥ ' : '';
  return [
    `  ${place}`,
    place === '' || expected_C === null ? '' : `${bound}${expectedText(expected_C)}`,
    formatNumber(limit.limit_C, Number.isInteger(limit.limit_C) ? 0 : 1),
    limit.level,
    margin_K === null ? '' : `${lowerBound ? '≤ ' : ''}${formatNumber(margin_K)}`,
    atLeast_K === null ? '' : formatNumber(atLeast_K),
    highestAmbient_C === null ? '' : formatNumber(highestAmbient_C),
    levelCell(level),
  ];
}

/** A stored device has the temperature of the room, which is set and carries no doubt. */
function expectedText(expected: { readonly value: number; readonly u: number }): string {
  if (expected.u === 0) return formatNumber(expected.value, decimalsFor(undefined));
  return formatEstimate(expected, '').trimEnd();
}

function placeOf(build: Build, { probe, limit }: Margin): string {
  if (probe !== null) return namesOf(build).probe(probe);
  if (limit.where === 'zone') return build.zones.find(({ id }) => id === limit.zone)?.name ?? 'zone';
  return limit.where === 'touch' ? 'shell, to the touch' : 'cells';
}
