import { type Contest, type Margin, planPower, planRepeats, usualRun_s } from '../compare/index.js';
import { formatKelvin, formatList, formatNumber, hoursFromSeconds } from '../measure/index.js';
import type { Correction } from '../probes/index.js';
import type { Build } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import type { Choice } from './choose-setup.js';
import { capital, namesOf } from './names.js';
import type { NextStep } from './verdict.js';

/** What to do next at the bench, the one that blocks most first. */
export function planNext(
  build: Build,
  choice: Choice,
  contest: Contest | null,
  margins: readonly Margin[],
  corrections: readonly Correction[],
  runs: readonly RunResult[],
): NextStep[] {
  const names = namesOf(build);
  const run_h = hoursFromSeconds(usualRun_s(runs));
  const steps: NextStep[] = [];
  if (build.probes.length === 0) {
    steps.push({
      stage: 'probes',
      title: 'Add the probes',
      detail: 'One on the hottest zone, one on the pack face beside it, one in the air of the room.',
      takes_h: null,
    });
  } else if (corrections.some(({ check }) => check === null)) {
    const bare = corrections.filter(({ check }) => check === null).map(({ probe }) => names.probe(probe));
    steps.push({
      stage: 'probes',
      title: `Check ${formatList(bare)}`,
      detail:
        'All probes together in ice water, then in boiling water, with the pressure noted. Hot water scalds: use a stable pot and keep leads and logger dry.',
      takes_h: 0.5,
    });
  }
  if (build.setups.length < 2) {
    steps.push({
      stage: 'compare',
      title: 'Describe two set-ups',
      detail: 'The device as it is, and one shield: layers with material and thickness.',
      takes_h: null,
    });
  }
  if (choice.kind === 'no-runs') {
    steps.push({
      stage: 'runs',
      title: 'Run the baseline and one shield twice each',
      detail: `Idle until steady, load until steady, shell opened and pack re-mounted in between. Keep a guard at 60 °C on the cells (common practice, no source), and stay with the device.`,
      takes_h: 4 * run_h,
    });
  }
  if (choice.kind === 'one-setup') {
    steps.push({
      stage: 'runs',
      title: 'Run a second set-up',
      detail: 'In the same session where it can be, re-mounted; twice each.',
      takes_h: 2 * run_h,
    });
  }
  if (choice.kind === 'single-runs' && contest !== null) {
    steps.push({
      stage: 'runs',
      title: `Run ${formatList(contest.setups.map(({ setup }) => names.setup(setup)))} once more each`,
      detail: `Re-mounted, in an order drawn by lot. Until a set-up has been run twice, differences below ${formatKelvin(contest.canShow_K ?? Number.NaN)} cannot be told from a re-mounting.`,
      takes_h: contest.setups.length * run_h,
    });
  }
  if (build.designAmbient === undefined) {
    steps.push({
      stage: 'compare',
      title: 'Set the design ambient',
      detail: 'The warmest room or bag the device must bear; without it no margin can be judged.',
      takes_h: null,
    });
  }
  if (choice.kind === 'fit' || choice.kind === 'nothing-better') {
    const charging = margins.filter(
      (margin) =>
        margin.setup === choice.setup &&
        margin.use === 'charging-idle' &&
        margin.level === 'unknown' &&
        margin.limit.level === 'stop',
    );
    if (charging.length > 0) {
      steps.push({
        stage: 'runs',
        title: `Run ${names.setup(choice.setup)} while charging`,
        detail:
          'Idle, then load, with the charger connected: the charge’s own heat is not known, and the charging limit is the lowest. Start short and guarded.',
        takes_h: run_h,
      });
    }
  }
  if (contest !== null && choice.kind === 'fit') {
    const open = contest.pairs
      .filter(
        (pair) => pair.finding === 'not-shown' && pair.other === choice.setup && pair.cooler_K.value > 0,
      )
      .sort((a, b) => b.cooler_K.value - a.cooler_K.value)[0];
    const plan = open === undefined ? null : planRepeats(contest, open);
    if (open !== undefined && plan !== null) {
      const what = formatList(
        Object.entries(plan.add).map(
          ([setup, count]) =>
            `${count === 1 ? 'one more run' : `${count} more runs`} of ${names.setup(setup)}`,
        ),
      );
      steps.push({
        stage: 'runs',
        title: `${capital(what)} would settle it against ${names.setup(choice.setup)}`,
        detail: `${capital(names.setup(open.setup))} looks ${formatKelvin(open.cooler_K.value)} cooler. As one planned comparison, what would be shown with a chance of ${formatNumber(100 * planPower, 0)} % comes down from ${formatNumber(plan.now_K, 2)} to ${formatNumber(plan.then_K, 2)} K: enough if the difference is what it looks like. Draw the order by lot, open the shell in between.`,
        takes_h: plan.total * run_h,
      });
    }
  }
  return steps;
}
