import { type Build, buildFormat, buildVersion, type Limit } from './build-record.js';

/**
 * The limits a new build starts with, until the pack's own sheet replaces them.
 *
 * The charging and discharging limits are the usual window for lithium-ion cells where no sheet is at hand; the
 * preferred level and the memory chips' limit are rules of the trade.
 *
 * @assumed common practice, no source; every row says so in its own `source`, and the verdict repeats it
 */
export const defaultLimits: readonly Limit[] = [
  {
    id: 'prefer',
    where: 'cell',
    state: 'any',
    level: 'prefer',
    limit_C: 35,
    source: 'common practice, no source',
  },
  {
    id: 'charging',
    where: 'cell',
    state: 'charging',
    level: 'stop',
    limit_C: 45,
    source: 'common practice, no source: replace by the pack’s own sheet',
  },
  {
    id: 'discharging',
    where: 'cell',
    state: 'discharging',
    level: 'stop',
    limit_C: 60,
    source: 'common practice, no source: replace by the pack’s own sheet',
  },
];

/** An empty build with the default limits. */
export function newBuild(id: string, name: string): Build {
  return {
    format: buildFormat,
    version: buildVersion,
    id,
    name,
    zones: [],
    probes: [],
    probeChecks: [],
    setups: [],
    runs: [],
    limits: [...defaultLimits],
  };
}

/** An id from a name: "Plate on strips" becomes "plate-on-strips"; a number is added where it is taken. */
export function idFrom(name: string, taken: readonly string[] = []): string {
  const base =
    name
      .normalize('NFKD')
      .replace(/[̀-ͯ]/g, '')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 60) || 'item';
  if (!taken.includes(base)) return base;
  let count = 2;
  while (taken.includes(`${base}-${count}`)) count += 1;
  return `${base}-${count}`;
}
