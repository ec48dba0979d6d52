/** Words that every verb uses alike. */
import { plainText, type Sentence } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Page, wrap } from './page.js';
import type { Cell } from './table.js';

export type Level = 'holds' | 'look' | 'stop' | 'unknown';

const levelWords: Readonly<Record<Level, string>> = {
  holds: '● holds',
  look: '▲ look',
  stop: '■ stop',
  unknown: '○ not measured',
};

/** A level by shape, word and, last, colour. */
export function levelCell(level: Level): Cell {
  return { text: levelWords[level], look: level === 'unknown' ? 'none' : level };
}

/** The names of a build's set-ups and probes by their ids. */
export function namesOf(build: Pick<Build, 'setups' | 'probes'>) {
  return {
    setup: (id: string) => build.setups.find((setup) => setup.id === id)?.name ?? id,
    probe: (id: string) => build.probes.find((probe) => probe.id === id)?.name ?? id,
  };
}

/** The answer, then what it holds under: what a person reads who reads nothing else. */
export function opening(page: Page, answer: Sentence, condition?: string): string[] {
  return [...wrap(page, plainText(answer)), ...(condition ? ['', ...wrap(page, condition)] : [])];
}

/** Which build this was about, and whether it is made up. */
export function closing(page: Page, build: Pick<Build, 'name' | 'invented'>): string[] {
  const invented = build.invented
    ? ' Invented example: the device, the pack and every reading are made up.'
    : '';
  return ['', ...wrap(page, `Build: ${build.name}.${invented} ± is one standard uncertainty u.`)];
}

/** Stands under everything a person might act on. */
export function caution(page: Page): string[] {
  return wrap(
    page,
    'Lithium packs can burn. Nothing here replaces the maker’s sheet, local codes or a licensed person where one is required.',
    'Caution: ',
  );
}
