import type { Margin } from '@soakbench/core/compare';
import { boundOnLevel, type HeatAssessment, type PredictedSetup, tellModelError } from '@soakbench/core/heat';
import { type Estimate, formatCelsius, formatEstimate, formatNumber } from '@soakbench/core/measure';
import { tQuantile } from '@soakbench/core/numerics';
import type { Build } from '@soakbench/core/records';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { caution, closing, namesOf } from '../parts/words.js';
import { layMargins } from '../verdict/lay-margins.js';

type Rise = PredictedSetup['rises'][number];

/** The hottest place of the pack, which is what shields are for. */
export function hottestOf({ rises }: Pick<PredictedSetup, 'rises'>): Rise | undefined {
  return rises
    .filter(({ target }) => target.kind === 'hottest' && target.id.startsWith('cell-'))
    .reduce<Rise | undefined>(
      (most, each) => (most === undefined || each.rise_K.value > most.rise_K.value ? each : most),
      undefined,
    );
}

/** What a person reads who reads nothing else. */
export function answerPrediction(
  build: Build,
  heat: HeatAssessment,
  shown: readonly PredictedSetup[],
): string {
  const { setup: nameOf } = namesOf(build);
  const [one] = shown;
  const sorted = [...shown].sort(
    (a, b) => (hottestOf(a)?.rise_K.value ?? 0) - (hottestOf(b)?.rise_K.value ?? 0),
  );
  const told = shown.length === 1 ? one : sorted[0];
  const rise = told === undefined ? undefined : hottestOf(told)?.rise_K;
  if (told === undefined || rise === undefined) return 'Nothing could be predicted.';
  const bound = boundOnLevel(build, heat.room_C, rise);
  const head =
    shown.length === 1
      ? `${told.measured ? 'The model has' : 'Predicted, not measured:'} ${nameOf(told.setup)} ${told.measured ? 'run' : 'would run'} the pack’s hottest place `
      : `Of ${shown.length} set-ups the model has ${nameOf(told.setup)} coolest, with the pack’s hottest place `;
  const open =
    heat.leaveOneOut === null ? ' One set-up alone was soaked: nothing tells how far off this is.' : '';
  return `${head}${formatEstimate(rise, 'K')} above a room of ${formatCelsius(heat.room_C)}${bound === null ? '' : `: ${bound}`}.${open}`;
}

/** Predictions as a person reads them: answer, places with intervals and parts of doubt, margins, how good the model is. */
export function tellPredictions(
  page: Page,
  build: Build,
  heat: HeatAssessment,
  shown: readonly PredictedSetup[],
  margins: readonly Margin[],
): string[] {
  const { setup: nameOf } = namesOf(build);
  const only = shown.length === 1 ? shown[0] : undefined;
  return [
    ...wrap(page, answerPrediction(build, heat, shown)),
    '',
    ...wrap(page, tellModelError(heat)),
    ...(only === undefined ? layOverview(page, build, shown) : layPlaces(page, build, heat, only)),
    ...(only !== undefined && margins.length > 0
      ? [
          ...heading(page, `Predicted margins at ${formatNumber(build.designAmbient?.ambient_C ?? 0)} °C`),
          ...layMargins(
            page,
            build,
            margins.filter(({ expected_C, use }) => expected_C !== null && use !== 'stored'),
          ),
        ]
      : []),
    ...list(
      page,
      'Could not be predicted',
      heat.unpredicted.map(({ setup, reason }) => `${nameOf(setup)}: ${reason}`),
    ),
    ...list(
      page,
      'Beyond what was checked',
      shown.flatMap(({ setup, beyond }) => beyond.map((words) => `${nameOf(setup)}: ${words}`)),
    ),
    ...list(page, 'Taken for granted', heat.notes),
    ...closing(page, build),
    ...caution(page),
  ];
}

function layOverview(page: Page, build: Build, shown: readonly PredictedSetup[]): string[] {
  const { setup: nameOf } = namesOf(build);
  const greatest = (rises: readonly Rise[], begins: string, kind: Rise['target']['kind']) =>
    rises
      .filter(({ target }) => target.kind === kind && target.id.startsWith(begins))
      .reduce<Rise | undefined>(
        (most, each) => (most === undefined || each.rise_K.value > most.rise_K.value ? each : most),
        undefined,
      );
  const text = (rise: Rise | undefined) => (rise === undefined ? '' : estimateText(rise.rise_K));
  return [
    ...heading(page, 'Rise above the room, K'),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'pack, hottest', right: true },
        { title: '95 % interval', right: true },
        { title: 'warmest cell, mean', right: true },
        { title: 'hottest zone', right: true },
        { title: 'shell', right: true },
        { title: '' },
      ],
      shown.map((each) => {
        const hot = hottestOf(each);
        return [
          nameOf(each.setup),
          text(hot),
          hot === undefined ? '' : intervalText(hot.rise_K),
          text(greatest(each.rises, 'cell-', 'mean')),
          text(greatest(each.rises, 'zone:', 'hottest')),
          text(greatest(each.rises, 'shell-', 'hottest')),
          each.measured ? '● soaked' : '○ predicted only',
        ];
      }),
    ),
  ];
}

function layPlaces(
  page: Page,
  build: Build,
  heat: HeatAssessment,
  { setup, charging, rises }: PredictedSetup,
): string[] {
  const { designAmbient } = build;
  // In a room cooler than that of the runs a rise is larger, and the sum no bound.
  const ambient_C =
    designAmbient === undefined || designAmbient.ambient_C < heat.room_C
      ? undefined
      : designAmbient.ambient_C;
  const measured = (rise: Rise) =>
    heat.fitted.find(
      (each) => each.setup === setup && each.charging === charging && each.probe === rise.target.probe,
    );
  const isMeasured = rises.some((rise) => measured(rise) !== undefined);
  return [
    ...heading(page, 'Rise above the room, and what its doubt is made of, K'),
    ...layTable(
      page,
      [
        { title: 'place' },
        { title: 'rise', right: true },
        { title: '95 % interval', right: true },
        ...(ambient_C === undefined
          ? []
          : [{ title: `°C at most at ${formatNumber(ambient_C)}`, right: true }]),
        ...(isMeasured ? [{ title: 'measured', right: true }] : []),
        { title: 'unknowns', right: true },
        { title: 'model', right: true },
        { title: 'place', right: true },
        { title: 'grid', right: true },
      ],
      rises.map((rise) => {
        const { parts, rise_K, target } = rise;
        const own = measured(rise);
        return [
          target.name,
          estimateText(rise_K),
          intervalText(rise_K),
          ...(ambient_C === undefined ? [] : [formatNumber(ambient_C + rise_K.value)]),
          ...(isMeasured
            ? [own === undefined ? '' : estimateText({ value: own.measured_K, u: own.measured_u_K })]
            : []),
          ...[parts.unknowns_K, parts.model_K, parts.place_K, parts.grid_K].map((part) =>
            part === 0 ? '' : formatNumber(part, 2),
          ),
        ];
      }),
    ),
    ...wrap(
      page,
      'Unknowns: what the runs have left open. Model: its own error, widened by what leaving set-ups out has shown. Place: the probe a little off. Grid: cells too coarse.',
      '  ',
    ),
  ];
}

export function estimateText(estimate: Pick<Estimate, 'value' | 'u'>): string {
  return formatEstimate(estimate, '').trimEnd();
}

export function intervalText({ value, u, dof }: Estimate): string {
  const half = tQuantile(0.975, dof ?? Number.POSITIVE_INFINITY) * u;
  return `${formatNumber(value - half)} to ${formatNumber(value + half)}`;
}
