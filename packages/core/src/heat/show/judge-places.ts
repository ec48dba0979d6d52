import { levelOf } from '../../compare/index.js';
import type { Estimate } from '../../measure/index.js';
import { dofNumber } from '../../measure/index.js';
import { tQuantile } from '../../numerics/index.js';
import type { Build, Limit } from '../../records/index.js';

/** A limit held against what the model expects at the hottest place it speaks of. Never mixed with margins that were measured. */
export interface PredictedMargin {
  readonly limit: Limit;
  /** The place that decides, by its id and in words. */
  readonly place: string;
  readonly name: string;
  readonly expected_C: number;
  /** Null while only the value is known. */
  readonly u_K: number | null;
  readonly margin_K: number;
  /** With 95 % one-sided coverage; null without a doubt. */
  readonly atLeast_K: number | null;
  /** `open`: the value holds, and its doubt is not known yet. */
  readonly level: 'holds' | 'look' | 'stop' | 'open';
}

interface Place {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
  readonly rise_K: number;
  readonly u?: Pick<Estimate, 'u' | 'dof'>;
}

const coverage = 0.95;

/**
 * The limits that hold in one use, against the hottest places of a prediction at the design ambient.
 *
 * A limit on cells is held against the hottest place of any cell, which a probe seldom sits on; so a predicted margin can be smaller than the
 * measured one of the same set-up.
 *
 * @returns nothing without a design ambient
 */
export function judgePlaces(
  build: Pick<Build, 'limits' | 'designAmbient' | 'zones'>,
  places: readonly Place[],
  charging: boolean,
): PredictedMargin[] {
  const ambient_C = build.designAmbient?.ambient_C;
  if (ambient_C === undefined) return [];
  const states: readonly Limit['state'][] = charging ? ['charging', 'any'] : ['discharging', 'any'];
  return build.limits
    .filter(({ state }) => states.includes(state))
    .flatMap((limit): PredictedMargin[] => {
      const warmest = places
        .filter((place) => place.kind === 'hottest' && speaksOf(limit, place.id))
        .reduce<Place | null>(
          (most, each) => (most === null || each.rise_K > most.rise_K ? each : most),
          null,
        );
      if (warmest === null) return [];
      const expected_C = ambient_C + warmest.rise_K;
      const margin_K = limit.limit_C - expected_C;
      const atLeast_K =
        warmest.u === undefined ? null : margin_K - tQuantile(coverage, dofNumber(warmest.u)) * warmest.u.u;
      return [
        {
          limit,
          place: warmest.id,
          name: warmest.name,
          expected_C,
          u_K: warmest.u?.u ?? null,
          margin_K,
          atLeast_K,
          // As measured margins are judged; without a doubt only what is passed is certain.
          level: atLeast_K === null && margin_K >= 0 ? 'open' : levelOf(limit, atLeast_K ?? margin_K),
        },
      ];
    })
    .sort((one, other) => one.margin_K - other.margin_K);
}

function speaksOf({ where, zone }: Limit, id: string): boolean {
  if (where === 'cell') return id.startsWith('cell-');
  if (where === 'touch') return id.startsWith('shell-');
  return zone === undefined ? id.startsWith('zone:') : id === `zone:${zone}`;
}
