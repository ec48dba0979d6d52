import type { IntervalRow, IntervalView, LevelLook } from '../drawing/index.js';
import { formatCelsius, formatKelvin, formatNumber } from '../measure/index.js';
import type { Build } from '../records/index.js';
import type { Margin } from './margin.js';
import { interval95 } from './present-contest.js';

/**
 * One set-up's states against their limits at the design ambient. One row for each use of the device and each thing a
 * limit speaks of; its limit is the stop limit with the least room, or the preferred level where there is no other.
 *
 * @returns null without a design ambient or without margins of this set-up: there is nothing to hold a limit against
 */
export function presentMargins(
  build: Pick<Build, 'setups' | 'zones' | 'designAmbient'>,
  margins: readonly Margin[],
  setup: string,
): IntervalView | null {
  const ambient_C = build.designAmbient?.ambient_C;
  const groups = groupByState(margins.filter((margin) => margin.setup === setup));
  if (ambient_C === undefined || groups.length === 0) return null;

  const preferred = preferredCellLevel(margins);
  const setupName = build.setups.find((each) => each.id === setup)?.name ?? setup;
  const rows = groups.map((group) => presentState(group, build, preferred));
  const references = [
    { at: ambient_C, words: `design ambient ${formatNumber(ambient_C, decimalsOf(ambient_C))}` },
  ];
  return {
    label: `${setupName} at ${formatNumber(ambient_C, decimalsOf(ambient_C))} °C ambient: ${groups.map((group) => stateWords(group, preferred)).join('; ')}.`,
    unit: '°C',
    rows,
    references:
      preferred === null
        ? references
        : [
            ...references,
            {
              at: preferred,
              words: `prefer below ${formatNumber(preferred, decimalsOf(preferred))}`,
              isDotted: true,
            },
          ],
  };
}

interface State {
  /** The margin that decides the state. */
  readonly tight: Margin;
  readonly all: readonly Margin[];
}

function groupByState(margins: readonly Margin[]): State[] {
  const groups = new Map<string, Margin[]>();
  for (const margin of margins) {
    const key = [margin.use, margin.limit.where, margin.limit.zone ?? ''].join(' ');
    groups.set(key, [...(groups.get(key) ?? []), margin]);
  }
  return [...groups.values()].flatMap((all) => {
    const hard = all.filter((margin) => margin.limit.level === 'stop');
    const judged = hard.length > 0 ? hard : all;
    const tight = judged.reduce((least, margin) =>
      (margin.margin_K ?? Infinity) < (least.margin_K ?? Infinity) ? margin : least,
    );
    return [{ tight, all }];
  });
}

function preferredCellLevel(margins: readonly Margin[]): number | null {
  const levels = margins
    .filter((margin) => margin.limit.where === 'cell' && margin.limit.level === 'prefer')
    .map((margin) => margin.limit.limit_C);
  return levels.length === 0 ? null : Math.min(...levels);
}

function decimalsOf(value: number): number {
  return Number.isInteger(value) ? 0 : 1;
}

/** *prefer*, *wear* and *stop* judge the temperature; a margin under the guard of the comparison is named as well. */
function judgeState({ tight }: State, preferred: number | null): { look: LevelLook; word: string } {
  if (tight.level === 'unknown' || tight.expected_C === null) return { look: 'none', word: 'not measured' };
  if (tight.level === 'stop')
    return { look: 'stop', word: tight.limit.level === 'stop' ? 'stop' : 'past it' };
  if (tight.lowerBound) return { look: 'look', word: 'at least' };
  // A preferred level that is passed wears the cells, and says so below.
  if (tight.level === 'look' && tight.limit.level === 'stop') return { look: 'look', word: 'look' };
  if (tight.limit.where !== 'cell') return { look: 'holds', word: 'holds' };
  if (preferred !== null && tight.expected_C.value > preferred) return { look: 'wear', word: 'wear' };
  return preferred === null ? { look: 'holds', word: 'holds' } : { look: 'prefer', word: 'prefer' };
}

function presentState(state: State, build: Pick<Build, 'zones'>, preferred: number | null): IntervalRow {
  const { tight } = state;
  const { look, word } = judgeState(state, preferred);
  const { limit, expected_C, margin_K } = tight;
  const zone = build.zones.find((each) => each.id === limit.zone)?.name;
  const place =
    limit.where === 'cell' ? undefined : (zone ?? (limit.where === 'touch' ? 'shell, to the touch' : 'zone'));
  const isPrefer = limit.level !== 'stop';
  return {
    name:
      place === undefined
        ? [{ words: tight.title }]
        : [{ words: tight.title }, { words: place, quiet: true }],
    mark:
      expected_C === null
        ? null
        : {
            value: expected_C.value,
            thick: [expected_C.value - expected_C.u, expected_C.value + expected_C.u],
            thin: interval95(expected_C),
            atLeast: tight.lowerBound,
          },
    absent: tight.missing ?? 'not measured',
    limit: {
      at: limit.limit_C,
      // The line of the preferred cell level runs through all rows and has its words at the top.
      words:
        isPrefer && limit.limit_C === preferred
          ? ''
          : `${isPrefer ? 'prefer below' : 'limit'} ${formatNumber(limit.limit_C, decimalsOf(limit.limit_C))}`,
      kind: isPrefer ? 'prefer' : 'limit',
    },
    valueWords:
      expected_C === null ? undefined : `${tight.lowerBound ? '≥ ' : ''}${formatNumber(expected_C.value, 1)}`,
    figure: margin_K === null ? '' : `${tight.lowerBound ? '≤ ' : ''}${formatKelvin(margin_K)}`,
    note: word,
    look,
  };
}

function stateWords(state: State, preferred: number | null): string {
  const { tight } = state;
  const { word } = judgeState(state, preferred);
  if (tight.expected_C === null || tight.margin_K === null)
    return `${tight.title}, ${tight.missing ?? 'not measured'}`;
  const side = tight.margin_K < 0 ? 'above' : 'below';
  const about = tight.lowerBound ? 'at least ' : '';
  return `${tight.title} ${about}${formatCelsius(tight.expected_C.value, tight.expected_C.u)}, ${formatKelvin(Math.abs(tight.margin_K))} ${side} the limit of ${formatNumber(tight.limit.limit_C, decimalsOf(tight.limit.limit_C))} °C, ${word}`;
}
