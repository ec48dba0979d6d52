import type { Build } from '../../records/index.js';
import type { DeviceModel } from '../device/device-model.js';
import type { Unknown } from '../device/unknown.js';
import type { CalibrationData, SoakState } from './calibration-data.js';
import { findPackPowers, heatOf, type PackPowers } from './pack-power.js';

/** Share of the load that one zone gives off, where its power was entered. @assumed 25 %: data sheets and estimates, seldom a meter */
const zoneSpread = 0.25;
/** The same where nobody entered any power and all zones count alike. @assumed a factor of two */
const unstatedZoneSpread = 0.7;

/** How the heat of a soak is shared out, and what of it is unknown. */
export interface HeatShares {
  /** Weights of the zones and, where the zones do not explain the load, of the board. */
  readonly weights: ReadonlyMap<string, number>;
  /** Load where no run notes its own, W. */
  readonly usual_W: number;
  /** What the pack's own current makes of heat in it. */
  readonly pack: PackPowers;
  readonly unknowns: readonly Unknown[];
  readonly notes: readonly string[];
}

export function shareHeat(build: Build, { states }: Pick<CalibrationData, 'states'>): HeatShares {
  const notes: string[] = [];
  const loaded = states.filter(({ phase }) => phase === 'load');
  const noted = loaded.flatMap(({ load_W }) => (load_W === null ? [] : [load_W]));
  const stated_W = build.zones.reduce((sum, zone) => sum + (zone.load_W ?? 0), 0);
  const isStated = build.zones.every((zone) => zone.load_W !== undefined) && stated_W > 0;
  const usual_W = noted.length > 0 ? noted.reduce((sum, each) => sum + each, 0) / noted.length : stated_W;
  const weights = new Map<string, number>(
    build.zones.map((zone) => [zone.id, isStated ? (zone.load_W as number) : 1]),
  );
  const rest_W = isStated ? usual_W - stated_W : 0;
  if (rest_W > leastRest * usual_W) weights.set('board', rest_W);
  if (!isStated)
    notes.push('The power of some zone is not entered; all zones are taken to give off the same.');
  if (noted.length === 0) notes.push('No run notes its power; the sum of the zones is taken.');
  const pack = findPackPowers(build, loaded);
  const unknowns: Unknown[] = [
    {
      id: 'load',
      name: 'the load as noted',
      spread: loadSpread(states),
      source: 'as noted with the runs',
      nominal: { value: usual_W, unit: 'W' },
    },
    ...[...weights.keys()].map((id): Unknown => {
      const zone = build.zones.find((each) => each.id === id);
      return {
        id: `share:${id}`,
        name: `share of ${zone?.name ?? 'the board'} in the load`,
        spread: isStated ? zoneSpread : unstatedZoneSpread,
        source: 'common practice, no source',
        nominal: { value: weights.get(id) as number, unit: 'W' },
      };
    }),
    ...(states.some(({ phase }) => phase === 'idle')
      ? [...weights.keys()].map((id): Unknown => {
          const zone = build.zones.find((each) => each.id === id);
          return {
            id: `idle-share:${id}`,
            name: `share of ${zone?.name ?? 'the board'} at idle, against its share under load`,
            spread: unstatedZoneSpread,
            source: 'common practice, no source',
            nominal: null,
          };
        })
      : []),
    ...(pack.charge === null ? [] : [pack.charge.unknown]),
    ...(pack.discharge === null ? [] : [pack.discharge.unknown]),
  ];
  return { weights, usual_W, pack, unknowns, notes: [...notes, ...pack.notes] };
}

/** Less than this share of the load left to the board is the rounding of what was entered. */
const leastRest = 0.02;
/** A load nobody metered. @assumed 15 %, common practice, no source */
const unmetered = 0.15;

function loadSpread(states: readonly SoakState[]): number {
  const known = states.flatMap(({ load_W, load_u_W }) =>
    load_W === null || load_u_W === null || load_W === 0 ? [] : [load_u_W / load_W],
  );
  return known.length === 0 ? unmetered : Math.max(...known);
}

/** A use of the device, as far as its heat hangs on it. */
export type HeatUse = Pick<SoakState, 'load_W' | 'charging'> & Partial<Pick<SoakState, 'phase'>>;

/** Heat by source in one state, W: zones and board share the load, cells what the pack's current makes. */
export function powerOf(
  model: Pick<DeviceModel, 'laid'>,
  shares: HeatShares,
  use: HeatUse,
  factors: ReadonlyMap<string, number>,
): Map<string, number> {
  const factor = (id: string) => factors.get(id) ?? 1;
  const isIdle = use.phase === 'idle';
  const whole_W = (use.load_W ?? shares.usual_W) * factor('load');
  const weighted = [...shares.weights].map(
    ([id, weight]) =>
      [id, weight * factor(`share:${id}`) * (isIdle ? factor(`idle-share:${id}`) : 1)] as const,
  );
  const sum = weighted.reduce((total, [, weight]) => total + weight, 0);
  const power_W = new Map(weighted.map(([id, weight]) => [id, (whole_W * weight) / sum]));
  const pack = use.charging ? shares.pack.charge : isIdle ? null : shares.pack.discharge;
  if (pack !== null) {
    const cells = model.laid.cells.length;
    for (let cell = 1; cell <= cells; cell++)
      power_W.set(`cell-${cell}`, heatOf(pack, factor(pack.unknown.id)) / cells);
  }
  return power_W;
}
