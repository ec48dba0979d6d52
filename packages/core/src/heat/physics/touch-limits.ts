import type { SourceStatus } from '../../materials/index.js';

export type TouchedSurface = 'metal' | 'glass' | 'plastic';

/** One printed limit for a surface that people touch. None of these rows was read in the standard itself. */
export interface TouchLimit {
  readonly standard: string;
  readonly edition: string;
  /** What it is made of; null for anything. */
  readonly surface: TouchedSurface | null;
  /** Contact of at least so long, and shorter than the other; null without end. */
  readonly contactFrom_s: number;
  readonly contactBelow_s: number | null;
  readonly limit_C: number;
  /** Room in which the limit counts; it does not move with the room. Null where the standard was not seen to say so. */
  readonly ambient_C: number | null;
  /** A burn threshold is where harm begins and no limit: a limit lies below it. */
  readonly kind: 'limit' | 'burn-threshold';
  readonly source: string;
  readonly status: SourceStatus;
}

const minute_s = 60;
const workday_s = 8 * 3600;

type Row = readonly [
  surface: TouchedSurface | null,
  from_s: number,
  below_s: number | null,
  limit_C: number,
  status: SourceStatus,
];

const audioVideo: readonly Row[] = [
  ['metal', minute_s, null, 48, 'second hand'],
  ['glass', minute_s, null, 48, 'from memory'],
  ['plastic', minute_s, null, 48, 'second hand'],
  ['metal', 10, minute_s, 51, 'from memory'],
  ['glass', 10, minute_s, 56, 'from memory'],
  ['plastic', 10, minute_s, 60, 'from memory'],
  ['metal', 1, 10, 60, 'from memory'],
  ['glass', 1, 10, 71, 'from memory'],
  ['plastic', 1, 10, 77, 'second hand'],
  ['metal', 0, 1, 70, 'from memory'],
  ['glass', 0, 1, 85, 'from memory'],
  ['plastic', 0, 1, 94, 'second hand'],
];

const medical: readonly Row[] = [
  ['plastic', minute_s, null, 48, 'second hand'],
  ['plastic', 1, 10, 71, 'second hand'],
  ['plastic', 0, 1, 86, 'second hand'],
];

/** A continuous hold is meant to last less than 8 h. */
const electronic: readonly Row[] = [
  [null, 10, workday_s, 43, 'second hand'],
  ['metal', 1, 10, 55, 'second hand'],
  ['glass', 1, 10, 65, 'second hand'],
  ['plastic', 1, 10, 65, 'second hand'],
  ['metal', 0, 1, 65, 'second hand'],
  ['glass', 0, 1, 85, 'second hand'],
  ['plastic', 0, 1, 85, 'second hand'],
];

const burns: readonly Row[] = [
  [null, minute_s, 10 * minute_s, 51, 'from memory'],
  [null, 10 * minute_s, workday_s, 48, 'from memory'],
  [null, workday_s, null, 43, 'from memory'],
];

/**
 * Limits and burn thresholds for touched surfaces. They are data: what is judged by them says which row it took and how that row was seen.
 *
 * @source [IEC-62368-1], [IEC-60601-1], [ECMA-287], [ISO-13732-1], each second hand or from memory as its rows say
 */
export const touchLimits: readonly TouchLimit[] = [
  ...audioVideo.map((row) => makeLimit(row, 'IEC 62368-1', '2018, table 38, TS1', '[IEC-62368-1]', 25)),
  ...medical.map((row) => makeLimit(row, 'IEC 60601-1', '2005, table 23', '[IEC-60601-1]')),
  ...electronic.map((row) => makeLimit(row, 'ECMA-287', 'edition not seen', '[ECMA-287]')),
  ...burns.map((row) => makeLimit(row, 'ISO 13732-1', '2006', '[ISO-13732-1]', null, 'burn-threshold')),
];

/**
 * The rows that speak of a surface and a time of contact, lowest first.
 *
 * The lowest is not the strictest law for a device: which standard applies is for a person to say.
 *
 * @param surface what is touched
 * @param contact_s how long, 0 or more
 */
export function touchLimitsFor(surface: TouchedSurface, contact_s: number): readonly TouchLimit[] {
  return touchLimits
    .filter((row) => row.surface === null || row.surface === surface)
    .filter(
      (row) => contact_s >= row.contactFrom_s && contact_s < (row.contactBelow_s ?? Number.POSITIVE_INFINITY),
    )
    .toSorted((one, other) => one.limit_C - other.limit_C);
}

function makeLimit(
  [surface, contactFrom_s, contactBelow_s, limit_C, status]: Row,
  standard: string,
  edition: string,
  source: string,
  ambient_C: number | null = null,
  kind: TouchLimit['kind'] = 'limit',
): TouchLimit {
  return {
    standard,
    edition,
    surface,
    contactFrom_s,
    contactBelow_s,
    limit_C,
    ambient_C,
    kind,
    source,
    status,
  };
}
