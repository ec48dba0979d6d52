import type { Build } from '../../records/index.js';
import type { DeviceModel } from '../device/device-model.js';
import type { Unknown } from '../device/unknown.js';
import type { CalibrationData, SoakState } from './calibration-data.js';

/** What a charge warms a pack with, as a share of the power that goes in. @assumed 1 to 6 % of it, common practice, no source */
const chargeLoss = 0.03;
/** A charge puts half of the pack's energy in an hour. @assumed common practice, no source */
const chargeRate_per_h = 0.5;

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
  readonly charge_W: number;
  readonly unknowns: readonly Unknown[];
  readonly notes: readonly string[];
}

export function shareHeat(build: Build, { states }: Pick<CalibrationData, 'states'>): HeatShares {
  const notes: string[] = [];
  const noted = states.flatMap(({ load_W }) => (load_W === null ? [] : [load_W]));
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
  const pack_Wh = build.newPack?.energy_Wh ?? 0;
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
    ...(states.some(({ charging }) => charging)
      ? [
          {
            id: 'charge',
            name: 'heat that a charge makes in the pack',
            spread: 0.8,
            source: 'common practice, no source',
            nominal: { value: chargeLoss * chargeRate_per_h * pack_Wh, unit: 'W' },
          },
        ]
      : []),
  ];
  return { weights, usual_W, charge_W: chargeLoss * chargeRate_per_h * pack_Wh, unknowns, notes };
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

/** Heat by source in one state, W: zones share the load, cells the charge. */
export function powerOf(
  model: Pick<DeviceModel, 'laid'>,
  shares: HeatShares,
  state: Pick<SoakState, 'load_W' | 'charging'>,
  factors: ReadonlyMap<string, number>,
): Map<string, number> {
  const factor = (id: string) => factors.get(id) ?? 1;
  const whole_W = (state.load_W ?? shares.usual_W) * factor('load');
  const weighted = [...shares.weights].map(([id, weight]) => [id, weight * factor(`share:${id}`)] as const);
  const sum = weighted.reduce((total, [, weight]) => total + weight, 0);
  const power_W = new Map(weighted.map(([id, weight]) => [id, (whole_W * weight) / sum]));
  if (state.charging) {
    const cells = model.laid.cells.length;
    for (let cell = 1; cell <= cells; cell++)
      power_W.set(`cell-${cell}`, (shares.charge_W * factor('charge')) / cells);
  }
  return power_W;
}
