import { formatEstimate, formatNumber } from '@soakbench/core/measure';
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
    ...tellPoints(page, build, probes),
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

function tellPoints(page: Page, build: Build, { points }: ProbesResult): string[] {
  if (points.length === 0) return [];
  const baths = [...new Map(points.map((point) => [`${point.check} ${point.reference_C}`, point])).values()];
  return [
    ...heading(page, 'Readings'),
    ...layTable(
      page,
      [
        { title: 'probe' },
        { title: 'check' },
        { title: 'bath °C', right: true },
        { title: 'reading °C', right: true },
        { title: 'left K', right: true },
      ],
      points.map((point) => [
        namesOf(build).probe(point.probe),
        point.check,
        formatEstimate({ value: point.reference_C, u: point.reference_u_K }, '').trimEnd(),
        formatNumber(point.reading_C, 2),
        formatNumber(point.left_K, 2),
      ]),
    ),
    ...baths.flatMap(({ reference_C, referenceWhy }) =>
      wrap(page, `${formatNumber(reference_C, 2)} °C: ${referenceWhy}`, '  '),
    ),
  ];
}
