import { formatCount, formatList, type Sentence } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { energyWords } from '../parts/describe-refit.js';

/** Parts of the page, in its order; also their ids. */
export type EntryPart =
  | 'device'
  | 'zones'
  | 'original-pack'
  | 'new-pack'
  | 'set-ups'
  | 'limits'
  | 'design-ambient'
  | 'duty';

export interface EntryView {
  readonly answer: Sentence;
  readonly condition: string;
  /** What is still to be entered, each with why it is asked for. */
  readonly missing: readonly { readonly what: string; readonly why: string; readonly part: EntryPart }[];
}

/** How far the description of the build has come, and what it still lacks. */
export function presentEntry(build: Build): EntryView {
  const missing = missingParts(build);
  return { answer: answerOf(build, missing), condition: conditionOf(build), missing };
}

function missingParts(build: Build): EntryView['missing'] {
  const asked: readonly (readonly [boolean, EntryPart, string, string])[] = [
    [build.device === undefined, 'device', 'the device', 'its section carries every other page'],
    [build.originalPack === undefined, 'original-pack', 'the original pack', 'what the charger was made for'],
    [build.newPack === undefined, 'new-pack', 'the new pack', 'what has to stay cool'],
    [
      build.zones.length === 0,
      'zones',
      'a zone that gives off heat',
      'the section is cut through the hottest one',
    ],
    [
      build.setups.length === 0,
      'set-ups',
      'a set-up',
      'runs are made with one; begin with the bare device, no layers',
    ],
    [
      build.designAmbient === undefined,
      'design-ambient',
      'the design ambient',
      'margins are judged on that day',
    ],
    [build.duty === undefined, 'duty', 'the duty', 'how long the cells are hot decides how fast they age'],
  ];
  return asked.flatMap(([isMissing, part, what, why]) => (isMissing ? [{ what, why, part }] : []));
}

function answerOf(build: Build, missing: EntryView['missing']): Sentence {
  const isBlank = missing.length === 7;
  if (isBlank) {
    return [
      { figure: 'Describe the device, the pack and the shields to try.' },
      ' Ten minutes with a caliper; the section grows as you type.',
    ];
  }
  if (missing.length > 0) {
    const names = missing.map((part) => part.what);
    return [{ figure: `${build.name} is described in part.` }, ` Still to enter: ${formatList(names)}.`];
  }
  const before = energyWords(build.originalPack);
  const after = energyWords(build.newPack);
  const energy = before && after ? `, refitted from ${before} to ${after} Wh` : '';
  return [
    { figure: build.device?.name ?? build.name },
    energy,
    `: ${formatCount(build.zones.length, 'zone')} and ${formatCount(build.setups.length, 'set-up')} to judge against ${formatCount(build.limits.length, 'limit')}.`,
  ];
}

function conditionOf(build: Build): string {
  const power_W = build.zones.reduce((sum, zone) => sum + (zone.load_W ?? 0), 0);
  const known = build.zones.length > 0 && build.zones.every((zone) => zone.load_W !== undefined);
  const parts = [
    known ? `The zones give off ${power_W.toFixed(1)} W at full load.` : '',
    build.designAmbient ? `Judged on a ${build.designAmbient.ambient_C} °C day.` : '',
    'Whatever you enter is kept at once; undo takes it back.',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

/** Why the new pack must not be connected, as far as its label tells; null where it tells nothing. */
export function seriesCaution(build: Build): string | null {
  const before = build.originalPack?.series;
  const after = build.newPack?.series;
  if (before === undefined || after === undefined || before === after) return null;
  const what =
    before < after
      ? 'would never fill it, and the device may see too high a voltage'
      : 'would overcharge it, and overcharged cells catch fire';
  return `The original pack has ${formatCount(before, 'cell')} in series, the new one ${after}. The charger in the device ${what}. Do not connect it.`;
}
