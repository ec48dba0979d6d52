import { formatNumber, found, type Result } from '../../measure/index.js';
import { changeDuty, type DutyChange } from '../duty/change-duty.js';
import { modelFamily } from '../models/model-family.js';
import {
  type LifeInput,
  type NoForecast,
  type PackFacts,
  prepareLife,
  type SetupRises,
} from './forecast-input.js';
import { type Spread, spreadOf } from './quantiles.js';
import { type SimulatedLife, simulateLife } from './simulate-life.js';
import { type SetupForecast, summariseSetup } from './summarise-setup.js';

/** One change to how the device is kept or used, and what becomes of the pack with it. */
export interface WhatIf extends Pick<SetupForecast, 'years' | 'delivered_Wh' | 'runTime' | 'costPerYear'> {
  readonly id: string;
  readonly title: string;
  /** Life over that as it is, pack by pack; null for the first row, and where another pack is meant. */
  readonly ratio: Spread | null;
  /** What was taken for granted in this row. */
  readonly note: string;
}

export interface WhatIfs {
  readonly rows: readonly WhatIf[];
  /** Other packs that no forecast could be made for, and why. */
  readonly leftOut: readonly { readonly title: string; readonly why: string }[];
}

/** Packs to hold against the one at hand. */
export interface WhatIfPacks {
  readonly bigger?: { readonly pack: PackFacts; readonly rises?: SetupRises['rises'] };
  readonly original?: {
    readonly pack: PackFacts;
    readonly rises: SetupRises['rises'];
    /** Where its rises come from, if they are not its own. */
    readonly note?: string;
  };
}

interface Change {
  readonly id: string;
  readonly title: string;
  readonly note?: string;
  readonly input: LifeInput;
  readonly isOtherPack?: boolean;
}

/** @assumed a room a person could bring about by moving the device; the answer scales with it */
const coolerRoom_K = 5;
/** @assumed a refit's usual gain, where no bigger pack is named */
const usualBigger = 1.5;
const usualDraws = 2000;
/** @source [KEIL-16] plateaus of fade over 20 to 30 % of charge and more */
const stepsNote =
  'Cells were seen to age in steps with charge: one step down may buy more or less than the smooth curves say.';

/**
 * What other habits, rooms and packs would do to the same device, side by side and in the same draws.
 *
 * Rows are ranges over models; their ratios are firmer than their years. A lower limit costs run time every day and pays in years only if
 * the pack spends its time near full. Rises are those of the set-up; what a bigger pack does to them is not known here unless it is given.
 *
 * @param input as for `forecastLife`; the set-up asked about must be among its set-ups
 */
export function compareWhatIfs(
  input: LifeInput,
  setup: string,
  packs: WhatIfPacks = {},
): Result<WhatIfs, NoForecast> {
  const base = baseOf(input, setup);
  return weigh(base, setup, (limit) => listChanges(base, setup, limit, packs));
}

/**
 * The same for one change of habits put together by hand: what it was and what it becomes, in the same draws.
 *
 * @param input as for `forecastLife`; the set-up asked about must be among its set-ups
 */
export function weighChange(
  input: LifeInput,
  setup: string,
  change: DutyChange,
): Result<WhatIfs, NoForecast> {
  const base = baseOf(input, setup);
  return weigh(base, setup, () => [
    asItIs(base),
    { id: 'asked', title: 'as set here', input: { ...base, duty: changeDuty(base.duty, change) } },
  ]);
}

/** All set-ups, so that the one asked about meets the packs it meets among them. */
function baseOf(input: LifeInput, setup: string): LifeInput {
  return {
    ...input,
    setups: input.setups.map((each) => (each.setup === setup ? withoutSpacer(each) : each)),
    draws: input.draws ?? usualDraws,
  };
}

function asItIs(base: LifeInput): Change {
  return { id: 'as-it-is', title: 'as it is', input: base };
}

function weigh(
  base: LifeInput,
  setup: string,
  changes: (limit: number) => readonly Change[],
): Result<WhatIfs, NoForecast> {
  const first = prepareLife(base);
  if (!first.ok) return first;
  const family = modelFamily(first.value.chemistry, first.value.condensed.fullCycles / 365);
  let asNow: SimulatedLife | null = null;
  const rows: WhatIf[] = [];
  const leftOut: { title: string; why: string }[] = [];
  for (const change of changes(first.value.limit)) {
    const prepared = prepareLife(change.input);
    if (!prepared.ok) {
      leftOut.push({ title: change.title, why: prepared.reason.remedy });
      continue;
    }
    const own = change.isOtherPack
      ? modelFamily(prepared.value.chemistry, prepared.value.condensed.fullCycles / 365)
      : family;
    const at = change.input.setups.findIndex((each) => each.setup === setup);
    const life = simulateLife(prepared.value, own, {
      only: Math.max(0, at),
      firstYears: change.isOtherPack ? undefined : asNow?.firstYears,
    });
    const years = life.setups[0]?.years ?? new Float64Array();
    const { years: spread, delivered_Wh, runTime, costPerYear } = summariseSetup(prepared.value, life, 0);
    const reference: Float64Array | null = asNow?.setups[0]?.years ?? null;
    rows.push({
      id: change.id,
      title: change.title,
      note: change.note ?? '',
      years: spread,
      delivered_Wh,
      runTime,
      costPerYear,
      ratio:
        reference === null || change.isOtherPack
          ? null
          : spreadOf(years.map((value, i) => value / (reference[i] as number))),
    });
    asNow ??= life;
  }
  return found({ rows, leftOut });
}

/** A gap that closes belongs to the set-ups' own comparison; here one set-up is held against itself. */
function withoutSpacer({ setup, name, rises }: SetupRises): SetupRises {
  return { setup, name, rises };
}

function listChanges(base: LifeInput, setup: string, limit: number, packs: WhatIfPacks): Change[] {
  const { duty, pack } = base;
  const limits = [1, 0.9, 0.8].filter(
    (share) => Math.abs(share - limit) > 0.01 && share > (duty.charging.lowest ?? 0),
  );
  const changes: Change[] = [asItIs(base)];
  for (const share of limits) {
    const percent = Math.round(100 * share);
    changes.push({
      id: `limit-${percent}`,
      title: `charge to ${percent} %`,
      note: share < limit ? stepsNote : '',
      input: { ...base, duty: changeDuty(duty, { limit: share }) },
    });
  }
  if (!duty.charging.unplugAtFull) {
    changes.push({
      id: 'unplug-at-full',
      title: 'unplug when full',
      note: 'It then lies at the same charge, without the warmth of the charger.',
      input: { ...base, duty: changeDuty(duty, { unplugAtFull: true }) },
    });
  }
  changes.push(
    {
      id: 'cooler-room',
      title: `a room ${coolerRoom_K} K cooler`,
      input: { ...base, duty: changeDuty(duty, { room_K: -coolerRoom_K }) },
    },
    {
      id: 'half-the-hours',
      title: 'half the hours of use',
      input: { ...base, duty: changeDuty(duty, { hours: 0.5 }) },
    },
    biggerPack(base, setup, packs),
  );
  if (packs.original) {
    changes.push({
      id: 'original-pack',
      title: 'the original pack',
      note: `${formatNumber(packs.original.pack.energy_Wh, 0)} Wh in place of ${formatNumber(pack.energy_Wh, 0)}. ${packs.original.note ?? ''}`.trimEnd(),
      isOtherPack: true,
      input: {
        ...base,
        pack: packs.original.pack,
        setups: [{ setup, name: 'original pack', rises: packs.original.rises }],
      },
    });
  }
  return changes;
}

function biggerPack(base: LifeInput, setup: string, { bigger }: WhatIfPacks): Change {
  const { price: _, ...pack } = base.pack;
  const larger = bigger?.pack ?? { ...pack, energy_Wh: usualBigger * pack.energy_Wh };
  const setups: readonly SetupRises[] = bigger?.rises
    ? [{ setup, name: 'bigger pack', rises: bigger.rises }]
    : base.setups;
  return {
    id: 'bigger-pack',
    title: `a pack of ${formatNumber(larger.energy_Wh, 0)} Wh`,
    note: bigger?.rises
      ? 'Shallower cycles, at its own rises.'
      : 'Shallower cycles at the same rises; a fuller bay may be hotter, which is not counted.',
    input: { ...base, pack: larger, setups },
    isOtherPack: bigger !== undefined,
  };
}
