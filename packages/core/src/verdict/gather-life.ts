import type { Contest } from '../compare/index.js';
import type { HeatAssessment } from '../heat/index.js';
import {
  type DayAsYear,
  dutyYearFromDay,
  type LifeInput,
  type PackFacts,
  type SetupRises,
} from '../life/index.js';
import { type Estimate, formatList, formatNumber, found, type Result, refused } from '../measure/index.js';
import type { Build, DutyYear, Pack } from '../records/index.js';
import { type CellRises, lendCharge, MeasuredRises, scaleRise } from './measured-rises.js';
import { capital, namesOf } from './names.js';
import { PredictedRises } from './predicted-rises.js';
import { spacerOf, swellingWords } from './spacer-gap.js';
import type { Assessment } from './verdict.js';

/** What a forecast rests on, out of a build's records and runs. */
export interface BuildLife {
  readonly input: LifeInput;
  /** What was taken for granted on the way, in words. */
  readonly assumed: readonly string[];
  readonly leftOut: readonly { readonly setup: string; readonly why: string }[];
  /** Set-ups that were never soaked and could be predicted, were a calibrated heat model at hand. */
  readonly untried: readonly string[];
}

/** The part of an assessment that a forecast rests on. */
export type LifeEvidence = Pick<Assessment, 'probes' | 'runs' | 'compare'>;

/** What a build lacks before any model is asked. */
export interface NoBuildLife {
  readonly kind: 'no-pack' | 'no-energy' | 'no-duty' | 'no-power' | 'no-runs' | 'odd-figure';
  readonly remedy: string;
}

const remedies: Readonly<Record<Exclude<NoBuildLife['kind'], 'odd-figure'>, string>> = {
  'no-pack': 'Enter the new pack: its cells in series, chemistry and energy.',
  'no-energy': 'Enter the energy of the new pack, or its rated charge and nominal voltage.',
  'no-duty': 'Describe how the device is used: hours and watts of each activity, and how it is charged.',
  'no-power': 'Note the power at full load with the runs or the zones, or describe the duty with watts.',
  'no-runs': 'Soak the baseline under load with a probe on the pack: without a rise no wear can be counted.',
};

/**
 * The input of a life forecast from a build and what was measured of it.
 *
 * Rises while charging come from charging runs; where only some set-ups were charged in, their charge's warmth is lent to the others, and
 * where none was, the forecast says that it is missing. An activity that is neither the load of the runs nor their idling has its rise in
 * proportion to its power. None of this says that cells age as the models do.
 *
 * @param heat the build's calibrated heat model: with it set-ups that were never soaked are forecast too, marked as predicted
 */
export function gatherLife(
  build: Build,
  assessment: LifeEvidence,
  heat?: HeatAssessment,
): Result<BuildLife, NoBuildLife> {
  const { main, others } = assessment.compare;
  const refuse = (kind: keyof typeof remedies) => refused({ kind, remedy: remedies[kind] });
  const pack = build.newPack;
  if (!pack) return refuse('no-pack');
  const facts = packFacts(pack);
  if (!facts) return refuse('no-energy');
  if (!build.dutyYear && !build.duty) return refuse('no-duty');
  if (!main) return refuse('no-runs');
  const measured = new MeasuredRises(
    build,
    [main, ...others],
    assessment.probes.corrections,
    // With cells side by side a probe's number no longer says which of those in series it is.
    pack.parallel > 1 ? 1 : pack.series,
  );
  const rises = heat === undefined ? measured : new PredictedRises(build, measured, heat, main);
  const load_W = loadPower_W(build, assessment);
  const day = build.dutyYear ? null : dayAsYear(build, measured, main.baseline, load_W);
  if (!build.dutyYear && !day) return refuse('no-power');
  const duty = build.dutyYear ?? (day?.duty as DutyYear);
  const assumed = [...(day?.assumed ?? [])];
  const gathered = gatherSetups({ build, duty, measured, rises, load_W, heat }, day?.rest_K ?? 0, assumed);
  const baseline = gathered.setups.findIndex(({ setup }) => setup === main.baseline);
  if (baseline < 0) return refuse('no-runs');
  const [first] = gathered.setups.splice(baseline, 1);
  assumed.push(...rises.tellCells());
  if (gathered.setups.some(({ spacer }) => spacer)) assumed.push(swellingWords);
  if (pack.parallel > 1 && heat === undefined)
    assumed.push('Cells side by side share their current: all are counted as the warmest that was measured.');
  return found({
    input: {
      pack: facts,
      duty,
      setups: [...(first ? [first] : []), ...gathered.setups],
      sharedRise_u_K: measured.shared_u_K,
    },
    assumed,
    leftOut: gathered.leftOut,
    untried: heat === undefined ? untriedOf(build, main) : [],
  });
}

/** A pack as the models need it; null where its energy is not known. */
export function packFacts(pack: Pack): PackFacts | null {
  const energy_Wh =
    pack.energy_Wh ??
    (pack.capacity_mAh && pack.nominal_V ? wattHours(pack.capacity_mAh, pack.nominal_V) : undefined);
  if (energy_Wh === undefined) return null;
  return {
    chemistry: pack.chemistry,
    series: pack.series,
    energy_Wh,
    ...(pack.thickness_mm === undefined ? {} : { thickness_mm: pack.thickness_mm }),
    ...(pack.price === undefined
      ? {}
      : { price: { amount: pack.price.amount, currency: pack.price.currency } }),
  };
}

const mAh_per_Ah = 1000;

function wattHours(capacity_mAh: number, nominal_V: number): number {
  return (capacity_mAh / mAh_per_Ah) * nominal_V;
}

/** Mean power of the counted runs as noted, else that of the zones. */
function loadPower_W(build: Build, { runs }: LifeEvidence): number | null {
  const noted = build.runs.flatMap(({ id, conditions }) =>
    conditions?.load_W !== undefined && runs.runs.some(({ run, counted }) => counted && run === id)
      ? [conditions.load_W]
      : [],
  );
  if (noted.length > 0) return noted.reduce((sum, power_W) => sum + power_W, 0) / noted.length;
  const zones = build.zones.flatMap(({ load_W }) => load_W ?? []);
  return zones.length > 0 ? zones.reduce((sum, power_W) => sum + power_W, 0) : null;
}

/** A year of the build's ordinary day. Nobody notes the power at idle: it is taken in proportion to the warmth it makes. */
function dayAsYear(
  build: Build,
  rises: MeasuredRises,
  baseline: string,
  load_W: number | null,
): DayAsYear | null {
  if (!build.duty || load_W === null) return null;
  const load_K = rises.of(baseline, { phase: 'load', charging: false })?.[0]?.value;
  const idle_K = rises.of(baseline, { phase: 'idle', charging: false })?.[0]?.value;
  const share = load_K && idle_K && load_K > 0 ? Math.min(1, Math.max(0, idle_K / load_K)) : 0;
  const made = dutyYearFromDay(build.duty, { load_W, idle_W: share * load_W });
  return {
    ...made,
    assumed: [
      ...made.assumed,
      `It draws ${formatNumber(load_W, 1)} W under load, as noted${build.duty.idle_h_per_day > 0 ? `, and ${formatNumber(share * load_W, 1)} W idle, in proportion to its warmth` : ''}.`,
    ],
  };
}

function untriedOf(build: Build, main: Contest): string[] {
  return build.setups.flatMap(({ id }) => (main.setups.some(({ setup }) => setup === id) ? [] : [id]));
}

type StateRises = Record<string, readonly Estimate[]>;

interface RisesAtHand {
  readonly build: Build;
  readonly duty: DutyYear;
  readonly measured: MeasuredRises;
  readonly rises: CellRises;
  readonly load_W: number | null;
  readonly heat: HeatAssessment | undefined;
}

function gatherSetups(
  { build, duty, measured, rises, load_W, heat }: RisesAtHand,
  rest_K: number,
  assumed: string[],
) {
  const names = namesOf(build);
  const setups: SetupRises[] = [];
  const leftOut: { setup: string; why: string }[] = [];
  const lender = lenderOf(build, measured);
  const borrowers: string[] = [];
  const scaled = new Set<string>();
  for (const { id } of build.setups) {
    const ofStates: StateRises = {};
    let why: string | null = null;
    for (const activity of duty.activities) {
      if (activity.h_per_day === 0) continue;
      const found = activityRises(rises, id, activity, duty.charging.whileInUse === true, load_W);
      if (found === null) why ??= whyNot(heat, id, activity.name, names.setup(id));
      else {
        ofStates[activity.id] = found.rises;
        if (found.isScaled) scaled.add(activity.name);
      }
    }
    if (why !== null) {
      leftOut.push({ setup: id, why });
      continue;
    }
    const idle = rises.of(id, { phase: 'idle', charging: false });
    const charging = rises.of(id, { phase: 'idle', charging: true });
    if (charging) ofStates['charging'] = charging;
    else if (idle && lender) {
      ofStates['charging'] = lendCharge(idle, lender);
      borrowers.push(names.setup(id));
    }
    if (rest_K !== 0) ofStates['rest'] = [{ value: rest_K, u: 0, dof: null }];
    const spacer = spacerOf(build, id);
    const isPredicted = rises instanceof PredictedRises && rises.isPredicted(id);
    setups.push({
      setup: id,
      name: isPredicted ? `${names.setup(id)}, predicted` : names.setup(id),
      rises: ofStates,
      ...(isPredicted ? { isPredicted } : {}),
      ...(spacer ? { spacer } : {}),
    });
  }
  if (lender && borrowers.length > 0)
    assumed.push(
      `Charging was not measured in ${formatList(borrowers)}: the warmth it adds in ${names.setup(lender.setup)} is lent to ${borrowers.length === 1 ? 'it' : 'them'}.`,
    );
  if (lender) assumed.push('While it charges the device idles, as it did in the charging runs.');
  if (scaled.size > 0)
    assumed.push(`The rise in ${formatList([...scaled])} is taken in proportion to its power.`);
  return { setups, leftOut };
}

function whyNot(heat: HeatAssessment | undefined, setup: string, activity: string, name: string): string {
  const refused = heat?.unpredicted.find((each) => each.setup === setup);
  return refused
    ? `${capital(name)} cannot be predicted: ${refused.reason}`
    : `How warm it gets in "${activity}" was not measured in ${name}.`;
}

/** A set-up in which idling was measured with and without a charge. */
function lenderOf(build: Build, rises: MeasuredRises) {
  for (const { id } of build.setups) {
    const charged = rises.of(id, { phase: 'idle', charging: true });
    const without = rises.of(id, { phase: 'idle', charging: false });
    if (charged && without) return { setup: id, with: charged, without };
  }
  return null;
}

/** The rise in an activity: that of the runs' load or idling by its id, otherwise by its power. */
function activityRises(
  rises: CellRises,
  setup: string,
  activity: DutyYear['activities'][number],
  isCharged: boolean,
  load_W: number | null,
): { readonly rises: readonly Estimate[]; readonly isScaled: boolean } | null {
  const phase = activity.id === 'idle' ? 'idle' : 'load';
  const measured =
    (isCharged ? rises.of(setup, { phase, charging: true }) : null) ??
    rises.of(setup, { phase, charging: false });
  if (measured === null) return null;
  if (activity.id === 'idle' || activity.id === 'load') return { rises: measured, isScaled: false };
  if (load_W === null || !(load_W > 0)) return null;
  const ratio = activity.use_W / load_W;
  return { rises: measured.map((rise) => scaleRise(rise, ratio)), isScaled: Math.abs(ratio - 1) > 0.02 };
}
