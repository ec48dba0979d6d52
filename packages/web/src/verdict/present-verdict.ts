import type { Margin } from '@soakbench/core/compare';
import { formatThickness } from '@soakbench/core/drawing';
import { formatCelsius, formatCount, formatKelvin, formatList, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, presentSection, setupThickness_mm } from '@soakbench/core/verdict';

/** The set-up the page draws: the chosen one, else the one whose margins are named, else the baseline. */
export function shownSetup(build: Build, assessment: Assessment): string | null {
  const { setup, margins } = assessment.verdict;
  return (
    setup ??
    margins[0]?.setup ??
    assessment.compare.main?.baseline ??
    build.baseline ??
    build.setups[0]?.id ??
    null
  );
}

/** One state of the device with the limit that leaves the least room in it. */
interface State {
  readonly title: string;
  readonly tight: Margin;
}

/** Every use and place with its tightest stop limit; preferred levels are no limits. */
function judgedStates(margins: readonly Margin[]): State[] {
  const states = new Map<string, State>();
  for (const margin of margins) {
    if (margin.limit.level !== 'stop') continue;
    const key = `${margin.use} ${margin.limit.where} ${margin.limit.zone ?? ''}`;
    const known = states.get(key);
    const room = margin.margin_K ?? Number.POSITIVE_INFINITY;
    if (known && (known.tight.margin_K ?? Number.POSITIVE_INFINITY) <= room) continue;
    states.set(key, { title: margin.title, tight: margin });
  }
  return [...states.values()];
}

/** "3 of 4 states hold. Charging at full load passes its limit by 9.6 K. Not measured: …" */
export function coolEnoughWords(margins: readonly Margin[]): string {
  const states = judgedStates(margins);
  const known = states.filter(({ tight }) => tight.margin_K !== null);
  const passed = known.filter(({ tight }) => tight.level === 'stop');
  const unknown = states.filter(({ tight }) => tight.margin_K === null);
  if (known.length === 0) return 'Not known: no state was measured against a limit at the design ambient.';
  const holding = known.length - passed.length;
  const first =
    passed.length === 0
      ? `Every limit that could be judged holds, in ${formatCount(known.length, 'state')}.`
      : `${holding} of ${formatCount(known.length, 'state')} hold${holding === 1 ? 's' : ''}.`;
  const failing = passed.map(({ title, tight }) =>
    tight.margin_K !== null && tight.margin_K < 0
      ? `${sentenceCase(title)} passes its limit by ${formatKelvin(-tight.margin_K)}.`
      : `${sentenceCase(title)} cannot be shown to hold: what is left, ${formatKelvin(tight.margin_K ?? 0)}, is within the doubt.`,
  );
  const absent =
    unknown.length === 0
      ? ''
      : `Not measured: ${formatList([...new Set(unknown.map(({ title }) => title))])}.`;
  return [first, ...failing, absent].filter((part) => part !== '').join(' ');
}

/** What the three words mean with this build's own preferred level. */
export function levelWords(build: Pick<Build, 'limits'>): string | null {
  const preferred = build.limits.filter(({ where, level }) => where === 'cell' && level === 'prefer');
  const lowest = preferred.reduce<number | null>(
    (least, { limit_C }) => (least === null || limit_C < least ? limit_C : least),
    null,
  );
  return lowest === null ? null : formatNumber(lowest, Number.isInteger(lowest) ? 0 : 1);
}

export interface AmbientRow {
  readonly key: string;
  readonly title: string;
  readonly highest: string;
}

/** Up to which ambient each state holds, the tightest limit of each. */
export function highestAmbients(build: Pick<Build, 'zones'>, margins: readonly Margin[]): AmbientRow[] {
  return judgedStates(margins).flatMap(({ title, tight }) => {
    if (tight.highestAmbient_C === null) return [];
    const zone = build.zones.find(({ id }) => id === tight.limit.zone)?.name;
    const place = tight.limit.where === 'cell' ? '' : `, ${zone ?? tight.limit.where}`;
    return [
      {
        key: `${tight.use} ${tight.limit.id}`,
        title: `${title}${place}`,
        highest: `${tight.lowerBound ? 'below ' : ''}${formatCelsius(tight.highestAmbient_C)}`,
      },
    ];
  });
}

/** Where the limits come from, each source once: "maker's sheet: charging 45 °C, discharging 60 °C". */
export function limitSources(margins: readonly Margin[]): string[] {
  const bySource = new Map<string, Set<string>>();
  for (const { limit } of margins) {
    const words = bySource.get(limit.source) ?? new Set<string>();
    const state = limit.state === 'any' ? limit.where : `${limit.where}, ${limit.state}`;
    words.add(`${limit.level === 'prefer' ? 'prefer ' : ''}${state} ${formatNumber(limit.limit_C, 0)} °C`);
    bySource.set(limit.source, words);
  }
  return [...bySource].map(([source, words]) => `${sentenceCase(source)}: ${[...words].join('; ')}.`);
}

/** "It takes 0.60 mm: polyimide film 0.06, …; 1.0 mm are left for the cells to swell." */
export function roomWords(build: Build, setup: string): string {
  const found = build.setups.find(({ id }) => id === setup);
  const { section } = presentSection(build, setup);
  const left_mm = section?.view.reserve_mm;
  const left =
    left_mm === undefined
      ? ''
      : left_mm < 0
        ? ` It is too thick for the bay by ${formatThickness(-left_mm)} mm.`
        : ` ${formatThickness(left_mm)} mm are left for the cells to swell.`;
  const name = sentenceCase(found?.name ?? setup);
  if (found === undefined || found.layers.length === 0) return `${name} takes no room.${left}`;
  const layers = found.layers.map((layer) => `${layer.name} ${formatThickness(layer.thickness_mm)}`);
  return `${name} takes ${formatNumber(setupThickness_mm(build, setup), 2)} mm: ${formatList(layers)}.${left}`;
}

function sentenceCase(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
