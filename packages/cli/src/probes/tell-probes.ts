import { formatCount, formatEstimate, formatNumber } from '@soakbench/core/measure';
import { writeReadings } from '@soakbench/core/probes';
import type { Build } from '@soakbench/core/records';
import type { ProbesResult } from '@soakbench/core/verdict';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { closing, namesOf, opening } from '../parts/words.js';
import { tellBudgets, tellDrifts } from './tell-budget.js';

/** The probe check as a person reads it: answer, corrections with their doubt, what the probes are, the readings. */
export function tellProbes(page: Page, build: Build, probes: ProbesResult): string[] {
  return [
    ...opening(page, probes.answer, probes.condition),
    ...tellCorrections(page, build, probes),
    ...tellBudgets(page, build, probes),
    ...tellDrifts(page, build, probes),
    ...tellSensors(page, build, probes),
    ...tellBaths(page, build, probes),
    ...closing(page, build),
  ];
}

function tellCorrections(page: Page, build: Build, { corrections, budget }: ProbesResult): string[] {
  const [first] = budget;
  if (first === undefined) return [];
  const rows = budget.map((row) => {
    const correction = corrections.find(({ probe }) => probe === row.probe);
    const [low, high] = correction?.checked_C ?? [null, null];
    return [
      namesOf(build).probe(row.probe),
      correction?.check ?? 'unchecked',
      formatNumber(row.correction_K, 2),
      formatNumber(row.total.u_K, 2),
      formatNumber(row.sameProbe.u_K, 2),
      low === null || high === null ? '' : `${formatNumber(low)} to ${formatNumber(high)}`,
    ];
  });
  return [
    ...heading(page, `Corrections at ${formatNumber(first.at_C, 0)} °C`),
    ...layTable(
      page,
      [
        { title: 'probe' },
        { title: 'check' },
        { title: 'correction K', right: true },
        { title: 'u K', right: true },
        { title: 'u same probe K', right: true },
        { title: 'checked °C', right: true },
      ],
      rows,
    ),
    ...wrap(
      page,
      'u: doubt of one corrected reading, which margins carry. u same probe: doubt of a difference of 1 K by the same probe, which a comparison carries.',
      '  ',
    ),
  ];
}

/** What the probes are made of, once one of them says so. */
function tellSensors(page: Page, build: Build, { sensors }: ProbesResult): string[] {
  const told = sensors.some(({ sensor }) => sensor !== null)
    ? sensors.map(
        ({ probe, sensor, basisWords }) =>
          `${namesOf(build).probe(probe)}: ${sensor ?? 'sensor not said'}. Doubt from ${basisWords}.`,
      )
    : [];
  return list(page, 'What each probe is made of', told);
}

/** What each probe read in each bath, how often, and how far its readings scatter there. */
function tellBaths(page: Page, build: Build, { baths }: ProbesResult): string[] {
  if (baths.length === 0) return [];
  const references = new Map(baths.map((one) => [`${one.check} ${one.bath}`, one]));
  return [
    ...heading(page, 'Readings'),
    ...layTable(
      page,
      [
        { title: 'probe' },
        { title: 'check' },
        { title: 'bath °C', right: true },
        { title: 'read', right: true },
        { title: 'mean °C', right: true },
        { title: 'scatter K', right: true },
        { title: 'left K', right: true },
        { title: 'readings °C' },
      ],
      baths.map((one) => [
        namesOf(build).probe(one.probe),
        one.check,
        formatEstimate({ value: one.reference_C, u: one.reference_u_K }, '').trimEnd(),
        formatCount(one.readings_C.length, 'time'),
        formatNumber(one.mean_C, 2),
        one.scatter_K === null ? '' : formatNumber(one.scatter_K, 2),
        formatNumber(one.left_K, 2),
        writeReadings(one),
      ]),
    ),
    ...[...references.values()].flatMap(({ check, reference_C, referenceWhy }) =>
      wrap(page, `${formatNumber(reference_C, 2)} °C in ${check}: ${referenceWhy}`, '  '),
    ),
    ...wrap(
      page,
      'scatter: standard deviation of one reading about their mean. left: what the correction leaves of the mean.',
      '  ',
    ),
  ];
}
