/** The first sentences of the pages probes, runs and compare: the answer with its numbers and conditions. */
import type { Contest, Difference } from '../compare/index.js';
import {
  formatCount,
  formatEstimate,
  formatKelvin,
  formatList,
  formatNumber,
  type Sentence,
  type SentencePart,
} from '../measure/index.js';
import type { Correction } from '../probes/index.js';
import type { Build } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import { capital, namesOf } from './names.js';
import type { ProbesResult, RunsResult } from './verdict.js';

export function tellProbes(
  build: Build,
  corrections: readonly Correction[],
  budget: ProbesResult['budget'],
): Sentence {
  if (build.probes.length === 0) return ['No probes yet. Add each temperature channel and where it sits.'];
  const checked = corrections.filter(({ check }) => check !== null);
  if (checked.length === 0) {
    return [
      `${formatCount(build.probes.length, 'probe')}, none checked: `,
      {
        figure: 'differences between set-ups still stand',
        why: 'One probe read twice carries the same error twice; it cancels in the difference.',
      },
      ', but margins to limits carry each probe’s full doubt.',
    ];
  }
  const names = namesOf(build);
  const largest = [...checked].sort(
    (a, b) => Math.abs(correctionAt(b, budget)) - Math.abs(correctionAt(a, budget)),
  )[0] as Correction;
  const worst_K = Math.max(
    ...budget.filter(({ probe }) => checked.some((c) => c.probe === probe)).map(({ total }) => total.u_K),
  );
  const at_C = budget[0]?.at_C ?? 45;
  const parts: SentencePart[] = [
    `${checked.length} of ${formatCount(build.probes.length, 'probe')} checked, good to `,
    {
      figure: `± ${formatKelvin(worst_K, worst_K)}`,
      why: `Largest standard uncertainty of a corrected reading at ${at_C} °C: baths, readings, resolution, drift, attachment.`,
    },
    `. ${names.probe(largest.probe)} read `,
    {
      figure: readText(correctionAt(largest, budget)),
      why: `Its correction at ${at_C} °C, from the check “${largest.check}”.`,
    },
    ' and is corrected.',
  ];
  return parts;
}

function correctionAt(correction: Correction, budget: ProbesResult['budget']): number {
  return budget.find(({ probe }) => probe === correction.probe)?.correction_K ?? 0;
}

function readText(correction_K: number): string {
  return `${formatKelvin(Math.abs(correction_K))} ${correction_K > 0 ? 'low' : 'high'}`;
}

export function tellRuns(
  build: Build,
  runs: readonly RunResult[],
  unreadable: RunsResult['unreadable'],
): Sentence {
  if (build.runs.length === 0) {
    return ['No runs yet. Import the first temperature log.'];
  }
  const names = namesOf(build);
  const counted = runs.filter((run) => run.counted);
  const sessions = new Set(counted.map((run) => run.session)).size;
  const setups = new Set(counted.map((run) => run.setup)).size;
  const aside = runs.filter((run) => !run.counted);
  const parts: SentencePart[] = [
    {
      figure: `${counted.length} of ${formatCount(build.runs.length, 'run')}`,
      why: 'A run counts when it has a settled rise at a cell under load, no grave flag, and nobody set it aside.',
    },
    ` ${counted.length === 1 ? 'counts' : 'count'}: ${formatCount(setups, 'set-up')} in ${formatCount(sessions, 'session')}.`,
  ];
  if (aside.length > 0)
    parts.push(
      ` Not counted: ${formatList(aside.map((run) => `${names.run(run.run)} (${short(run.whyNot ?? 'no plateau')})`))}.`,
    );
  if (unreadable.length > 0) parts.push(` ${formatCount(unreadable.length, 'log')} cannot be read.`);
  return parts;
}

function short(text: string): string {
  const [first] = text.split(/[:.;]/);
  return (first ?? text).trim().toLowerCase();
}

export function tellCompare(build: Build, contest: Contest | null): { answer: Sentence; condition: string } {
  if (contest === null) {
    return {
      answer: [
        'Nothing to compare yet. It takes two counted runs of each of two set-ups, re-mounted in between.',
      ],
      condition: 'One evening: two runs each of bare and one shield, some three hours a run.',
    };
  }
  const names = namesOf(build);
  const runs = contest.setups.reduce((sum, setup) => sum + setup.runs.length, 0);
  const sessions = new Set(contest.setups.flatMap((setup) => setup.runs.map(({ session }) => session))).size;
  const state = contest.quantity.charging ? ', charging' : '';
  const dof = contest.runToRun.dof;
  const condition = `Rise at ${names.probe(contest.quantity.probe)} above the room, ${contest.quantity.phase}${state}; ${formatCount(runs, 'run')} in ${formatCount(sessions, 'session')}. ${
    contest.runToRun.assumed
      ? `Without repeats the spread from run to run is assumed to be ${formatKelvin(contest.runToRun.sd_K)}.`
      : `Simultaneous 95 % intervals, ${formatCount(dof ?? 0, 'degree')} of freedom${contest.blocks === 'session' ? ', sessions taken out' : ''}.`
  }`;
  if (contest.setups.length < 2)
    return { answer: ['One set-up has been run; a comparison needs a second.'], condition };
  if (contest.pairs.every(({ finding }) => finding === 'no-verdict')) {
    return {
      answer: [
        'No finding: each set-up was run once. Two single runs could only tell apart ',
        {
          figure: formatKelvin(contest.canShow_K ?? Number.NaN),
          why: `With a run-to-run spread of ${formatKelvin(contest.runToRun.sd_K)}, assumed until a set-up has been run twice.`,
        },
        ' or more. Repeat each, re-mounted.',
      ],
      condition,
    };
  }
  return { answer: tellDifferences(contest, names.setup, names.probe(contest.quantity.probe)), condition };
}

function tellDifferences(contest: Contest, name: (id: string) => string, probe: string): Sentence {
  const base = name(contest.baseline);
  const shown = contest.toBaseline
    .filter(({ finding }) => finding === 'shown')
    .sort((a, b) => b.cooler_K.value - a.cooler_K.value);
  const open = contest.toBaseline.filter(({ finding }) => finding !== 'shown');
  const parts: SentencePart[] = [];
  for (const [index, difference] of shown.entries()) {
    parts.push(
      index === 0 ? `At ${probe}, ${name(difference.setup)} runs ` : `, ${name(difference.setup)} `,
      coolerFigure(difference),
    );
    if (index === 0) parts.push(` than ${base}`);
  }
  if (shown.length > 0) parts.push(': shown.');
  if (open.length > 0) {
    parts.push(
      `${shown.length > 0 ? ' ' : ''}${capital(formatList(open.map(({ setup }) => name(setup))))} cannot be told from ${base}.`,
    );
  }
  const closest = contest.pairs.find(
    (pair) =>
      pair.finding === 'not-shown' &&
      shown.some(({ setup }) => setup === pair.setup) &&
      shown.some(({ setup }) => setup === pair.other),
  );
  if (closest !== undefined) {
    parts.push(
      ` Between ${name(closest.setup)} and ${name(closest.other)}, `,
      { figure: formatEstimate(closest.cooler_K, 'K'), why: intervalWhy(closest) },
      ': not shown.',
    );
  }
  return parts;
}

function coolerFigure(difference: Difference): SentencePart {
  const { value, u } = difference.cooler_K;
  const words = value >= 0 ? 'cooler' : 'warmer';
  return {
    figure: `${formatEstimate({ value: Math.abs(value), u }, 'K')} ${words}`,
    why: intervalWhy(difference),
  };
}

function intervalWhy(difference: Difference): string {
  const [low, high] = difference.simultaneous95_K;
  return `Simultaneous 95 % interval ${formatNumber(low, 1)} to ${formatNumber(high, 1)} K; p = ${difference.p < 0.001 ? 'below 0.001' : difference.p.toFixed(3)}. The run is the unit, not the sample.`;
}
