import type { Contest, Margin } from '../compare/index.js';
import {
  formatCelsius,
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
import { type Choice, setupThickness_mm } from './choose-setup.js';
import { findObstacle } from './find-obstacle.js';
import { capital, namesOf } from './names.js';

/** The sentence of decision. */
export function tellAnswer(
  build: Build,
  choice: Choice,
  contest: Contest | null,
  margins: readonly Margin[],
): Sentence {
  const names = namesOf(build);
  switch (choice.kind) {
    case 'no-runs':
      return ['No verdict yet: no run counts so far.'];
    case 'single-runs':
      return [
        'No verdict yet: each set-up was run once, and two single runs could only tell apart ',
        {
          figure: formatKelvin(contest?.canShow_K ?? Number.NaN),
          why: 'The assumed spread between two mountings, until a set-up has been run twice.',
        },
        ' or more.',
      ];
    case 'one-setup':
      return [
        `Only ${names.setup(choice.setup)} has been run; whether a shield helps is not known. `,
        ...tellMargins(build, choice.setup, margins),
      ];
    case 'nothing-better':
      return [
        `No shield is shown to be cooler than ${names.setup(choice.setup)}. `,
        ...tellMargins(build, choice.setup, margins),
      ];
    case 'fit': {
      const cooler = contest?.toBaseline.find(({ setup }) => setup === choice.setup);
      const parts: SentencePart[] = [tellChoice(build, choice, contest, margins), ' '];
      parts.push(...tellMargins(build, choice.setup, margins));
      if (cooler !== undefined && contest !== null) {
        parts.push(
          ' It is ',
          {
            figure: `${formatEstimate(cooler.cooler_K, 'K')} cooler`,
            why: `Simultaneous 95 % interval ${cooler.simultaneous95_K.map((value) => formatNumber(value, 1)).join(' to ')} K.`,
          },
          ` than ${names.setup(contest.baseline)}.`,
        );
      }
      return parts;
    }
  }
}

/** What to do with the chosen set-up. It is told to be fitted only where nothing that was judged ends the use of the device. */
function tellChoice(
  build: Build,
  choice: Extract<Choice, { kind: 'fit' }>,
  contest: Contest | null,
  margins: readonly Margin[],
): SentencePart {
  const name = namesOf(build).setup(choice.setup);
  const why = whyThis(build, choice, contest);
  const obstacle = findObstacle(build, choice.setup, margins);
  if (obstacle === null) return { figure: `Fit the ${name}.`, why };
  if (obstacle.kind === 'too-thick')
    return {
      figure: `${capital(name)} is ${formatNumber(obstacle.by_mm, 2)} mm too thick for the bay.`,
      why: `A shell that is forced shut presses on the pack, and a pressed pack can burn. ${why}`,
    };
  const isPassed = (obstacle.margin.margin_K ?? 0) < 0;
  return {
    figure: `${capital(name)} ${isPassed ? 'is not enough' : 'is not shown to be enough'}.`,
    why: `It ${isPassed ? 'passes' : 'may pass'} a limit at which use has to end. ${why}`,
  };
}

function whyThis(build: Build, choice: Extract<Choice, { kind: 'fit' }>, contest: Contest | null): string {
  const names = namesOf(build);
  const thick = `${formatNumber(setupThickness_mm(build, choice.setup), 2)} mm`;
  if (choice.coolest === choice.setup || contest === null) {
    return `Of the set-ups shown to be cooler than the baseline it is the coolest; it takes ${thick}.`;
  }
  return `${capital(names.setup(choice.coolest))} looks cooler still, but that is not shown; of those that cannot be told apart this is the thinnest, ${thick}.`;
}

/** The margins that decide, in words: full load first, then whatever fails. */
function tellMargins(build: Build, setup: string, margins: readonly Margin[]): Sentence {
  const names = namesOf(build);
  const mine = margins.filter(
    (margin) => margin.setup === setup && margin.limit.where === 'cell' && margin.limit.level === 'stop',
  );
  const load = mine.find((margin) => margin.use === 'discharging-load');
  if (load === undefined || load.expected_C === null || load.margin_K === null || load.probe === null) {
    return [
      'Its margins are not judged: ',
      load?.missing ??
        (build.designAmbient === undefined ? 'no design ambient is set' : 'no discharging limit is set'),
      '.',
    ];
  }
  const ambient_C = build.designAmbient?.ambient_C ?? Number.NaN;
  const parts: SentencePart[] = [
    `At full load on a ${formatNumber(ambient_C, 0)} °C day ${names.probe(load.probe)} reaches `,
    {
      figure: formatEstimate(load.expected_C, '°C'),
      why: `Design ambient plus the mean rise of ${formatCount(load.evidence.length, 'run')}; the doubt covers one further mounting and the probe check.`,
    },
    ', ',
    marginFigure(load),
    ` the discharging limit of ${formatNumber(load.limit.limit_C, 0)} °C.`,
  ];
  const failing = margins.filter(
    (margin) =>
      margin.setup === setup && margin.limit.level === 'stop' && margin.level === 'stop' && margin !== load,
  );
  for (const margin of failing) {
    if (margin.margin_K === null) continue;
    const ceiling = margin.highestAmbient_C;
    parts.push(
      ` ${capital(margin.title)} ${limitPassed(build, margin)} of ${formatNumber(margin.limit.limit_C, 0)} °C`,
      margin.margin_K < 0 ? ' by ' : ' within its doubt, ',
      {
        figure: formatKelvin(Math.abs(margin.margin_K)),
        why: margin.lowerBound
          ? 'At least: the charge’s own heat was not measured and comes on top.'
          : `Expected ${margin.expected_C === null ? '' : formatEstimate(margin.expected_C, '°C')}.`,
      },
      ceiling === null ? '.' : `: not above ${formatNumber(Math.floor(ceiling), 0)} °C ambient.`,
    );
  }
  return parts;
}

/** "passes the charging limit", "takes processor past its limit": whose limit it is. */
function limitPassed(build: Build, { limit, probe }: Margin): string {
  if (limit.where === 'cell')
    return limit.state === 'any' ? 'passes the limit' : `passes the ${limit.state} limit`;
  if (limit.where === 'touch') return 'takes the shell past the limit to the touch';
  const zone = limit.zone ?? build.probes.find(({ id }) => id === probe)?.zone;
  return `takes the ${build.zones.find(({ id }) => id === zone)?.name ?? 'zone'} past its limit`;
}

function marginFigure(margin: Margin): SentencePart {
  const value = margin.margin_K as number;
  return {
    figure: `${formatKelvin(Math.abs(value))} ${value >= 0 ? 'under' : 'over'}`,
    why: `At least ${formatKelvin(margin.atLeast_K ?? Number.NaN)} with 95 % coverage. Limit: ${margin.limit.source}.`,
  };
}

export function tellCondition(build: Build, choice: Choice, margins: readonly Margin[]): string {
  if (choice.kind === 'no-runs' || choice.kind === 'single-runs') return 'What to do next is listed below.';
  const setup = build.setups.find(({ id }) => id === choice.setup);
  const layers =
    setup === undefined || setup.layers.length === 0
      ? 'nothing between zones and pack'
      : formatList(setup.layers.map((layer) => `${formatNumber(layer.thickness_mm, 2)} mm ${layer.name}`));
  const load = margins.find(
    (margin) =>
      margin.setup === choice.setup &&
      margin.use === 'discharging-load' &&
      margin.limit.level === 'stop' &&
      margin.limit.where === 'cell',
  );
  const holds =
    load?.highestAmbient_C === undefined || load.highestAmbient_C === null
      ? ''
      : ` Holds with 95 % coverage up to ${formatCelsius(load.highestAmbient_C)} ambient, for the load that was run and the spots where the probes sat.`;
  return `${capital(layers)}.${holds}`;
}

export function tellRestsOn(
  build: Build,
  runs: readonly RunResult[],
  corrections: readonly Correction[],
  contest: Contest | null,
): string[] {
  const counted = runs.filter((run) => run.counted);
  const lines: string[] = [];
  if (counted.length > 0) {
    const sessions = new Set(counted.map((run) => run.session)).size;
    const aside = build.runs.length - counted.length;
    lines.push(
      `${formatCount(counted.length, 'run')} in ${formatCount(sessions, 'session')}${aside > 0 ? `; ${aside} not counted` : ''}`,
    );
  }
  const checked = corrections.filter(({ check }) => check !== null).length;
  lines.push(
    checked === 0 ? 'no probe check' : `${checked} of ${formatCount(corrections.length, 'probe')} checked`,
  );
  if (contest !== null) {
    lines.push(
      `run-to-run spread ${formatKelvin(contest.runToRun.sd_K, contest.runToRun.sd_K / 5)}${contest.runToRun.assumed ? ', assumed' : `, ${formatCount(contest.runToRun.dof ?? 0, 'degree')} of freedom`}`,
    );
  }
  const loads = counted.flatMap(
    (run) => build.runs.find(({ id }) => id === run.run)?.conditions?.load_W ?? [],
  );
  if (loads.length > 0) lines.push(`load ${loadText(loads)} as noted`);
  else if (counted.length > 0) lines.push('load taken to be equal: no power was noted');
  const flagged = counted.filter((run) => run.flags.some(({ level }) => level === 'look')).length;
  if (flagged > 0) lines.push(`${formatCount(flagged, 'counted run')} with a flag`);
  return lines;
}

export function tellUnresolved(
  build: Build,
  choice: Choice,
  contest: Contest | null,
  margins: readonly Margin[],
): string[] {
  const names = namesOf(build);
  const lines: string[] = [];
  if (contest !== null) {
    for (const pair of contest.pairs) {
      if (pair.finding === 'shown') continue;
      const concerns =
        choice.kind === 'fit' ? pair.setup === choice.setup || pair.other === choice.setup : true;
      if (!concerns) continue;
      lines.push(
        `${capital(names.setup(pair.setup))} against ${names.setup(pair.other)}: looks ${formatEstimate(pair.cooler_K, 'K')} cooler, ${pair.finding === 'not-shown' ? 'not shown' : 'no finding'}`,
      );
    }
    lines.push(...contest.notes);
  }
  const mine = 'setup' in choice ? choice.setup : null;
  for (const missing of new Set(
    margins
      .filter((margin) => margin.setup === mine && margin.level === 'unknown')
      .map(({ missing }) => missing),
  )) {
    if (missing !== null) lines.push(capital(missing));
  }
  return lines;
}

/** What a reader might think was considered and was not. */
export function tellMissing(build: Build): string[] {
  const lines: string[] = [];
  if (build.designAmbient === undefined) lines.push('design ambient');
  if (!build.limits.some((limit) => limit.where === 'cell' && limit.state === 'charging'))
    lines.push('a charging limit');
  if (!build.limits.some((limit) => limit.where === 'cell' && limit.state === 'discharging'))
    lines.push('a discharging limit');
  const defaults = build.limits.filter(
    (limit) => limit.source.startsWith('common practice') && limit.level === 'stop',
  );
  if (defaults.length > 0)
    lines.push(`the makers’ own limits: a default stands in for ${formatList(defaults.map(({ id }) => id))}`);
  if (build.probes.length > 0 && !build.probes.some(({ place }) => place === 'ambient'))
    lines.push('an ambient probe');
  if (build.duty === undefined) lines.push('the duty: what the heat costs in life is not bracketed');
  lines.push('hot spots between the probes', 'swelling, fit and electrical checks: not part of this version');
  return lines;
}

function loadText(loads_W: readonly number[]): string {
  const [least, most] = [formatNumber(Math.min(...loads_W), 1), formatNumber(Math.max(...loads_W), 1)];
  return least === most ? `${least} W` : `${least} to ${most} W`;
}
