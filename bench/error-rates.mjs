// @ts-check
/**
 * How often a comparison calls some difference shown where there is none, in plans of 2 to 6 set-ups with 1 to 6 runs: for all
 * pairs and against the baseline, with no, small and large differences between sessions. Nominal 5 %; with 4000 simulated
 * evenings a rate of 5 % comes out between 4.3 and 5.7 in 95 of 100 cases. Run it with: node bench/error-rates.mjs [evenings]
 */
import { compareSetups } from '../packages/core/dist/compare/index.js';
import { makeNoise } from '../packages/core/dist/numerics/index.js';

const evenings = Number(process.argv[2] ?? 4000);
/** Each set-up's runs as the sessions they are made in. @type {[name: string, plan: number[][], u_K?: number[]][]} */
const plans = [
  [
    '2 set-ups, 2 and 2 runs, 1 session',
    [
      [0, 0],
      [0, 0],
    ],
  ],
  [
    '2 set-ups, 6 and 2 runs, 1 session',
    [
      [0, 0, 0, 0, 0, 0],
      [0, 0],
    ],
  ],
  [
    '2 set-ups, 3 sessions',
    [
      [0, 1, 2],
      [0, 1, 2],
    ],
  ],
  [
    '2 set-ups, 6 sessions',
    [
      [0, 1, 2, 3, 4, 5],
      [0, 1, 2, 3, 4, 5],
    ],
  ],
  [
    '2 set-ups, 4 and 2 runs, 2 sessions',
    [
      [0, 0, 1, 1],
      [0, 1],
    ],
  ],
  [
    '2 set-ups, u of 0.1 to 1, 3 sessions',
    [
      [0, 1, 2, 2],
      [0, 1, 1, 2],
    ],
    [0.1, 1, 0.3],
  ],
  [
    '2 set-ups apart, 2 sessions each',
    [
      [0, 0, 1, 1],
      [2, 2, 3, 3],
    ],
  ],
  [
    '3 set-ups, 2 sessions',
    [
      [0, 1],
      [0, 1],
      [0, 1],
    ],
  ],
  [
    '3 set-ups, 2 to 5 runs, 3 sessions',
    [
      [0, 1, 2],
      [0, 1],
      [0, 0, 1, 2, 2],
    ],
  ],
  [
    '4 set-ups, 3 to 6 runs, 3 sessions',
    [
      [0, 1, 2],
      [0, 0, 2],
      [0, 1, 1, 1, 2, 2],
      [1, 2, 2],
    ],
  ],
  [
    '4 set-ups in a chain, 4 sessions',
    [
      [0, 1, 2, 3],
      [0, 1],
      [1, 2],
      [2, 3],
    ],
  ],
  ['5 set-ups, 1 to 6 runs, 1 session', [[0, 0, 0, 0, 0, 0], [0], [0, 0], [0, 0, 0], [0, 0]]],
  [
    '6 set-ups, 2 to 6 runs, 4 sessions',
    [
      [0, 1, 2, 3],
      [0, 1],
      [1, 2],
      [2, 3],
      [0, 3, 1],
      [0, 1, 2, 3, 1, 0],
    ],
  ],
  [
    '6 set-ups, 2 to 6 runs, 6 sessions',
    [
      [0, 1, 2, 3, 4, 5],
      [0, 1],
      [1, 2],
      [2, 3, 4],
      [4, 5],
      [0, 5, 3],
    ],
  ],
];

console.log(
  `${evenings} evenings each; between sessions none, half and one and a half of the spread between mountings`,
);
console.log(`${''.padEnd(40)}all pairs, %          to the baseline, %`);
plans.forEach(([name, plan, own], at) => {
  const rates = [0, 0.5, 1.5].map((session, step) =>
    simulate(plan, own ?? [0], session, 1000 * at + step + 1),
  );
  const show = (/** @type {'pairs' | 'base'} */ family) =>
    rates.map((rate) => (100 * rate[family]).toFixed(1).padStart(5)).join(' ');
  console.log(`${name.padEnd(38)} ${show('pairs')}     ${show('base')}`);
});

/**
 * @param {number[][]} plan
 * @param {number[]} own doubts from within a run, taken in turn
 * @param {number} session standard deviation between sessions, in units of that between mountings
 * @param {number} seed
 */
function simulate(plan, own, session, seed) {
  const noise = makeNoise(seed);
  for (let i = 0; i < 50; i++) noise.uniform();
  const alarms = { pairs: 0, base: 0 };
  for (let evening = 0; evening < evenings; evening++) {
    const days = Array.from({ length: 8 }, () => session * normal(noise));
    let count = 0;
    const runs = plan.flatMap((sessions, setup) =>
      sessions.map((day) => {
        const u_K = own[count % own.length] ?? 0;
        count += 1;
        const rise_K = 20 + (days[day] ?? 0) + normal(noise) + u_K * normal(noise);
        return { run: `${count}`, setup: `${setup}`, session: `${day}`, mounting: `${count}`, rise_K, u_K };
      }),
    );
    const contest = compareSetups({ probe: 'c', phase: 'load', charging: false }, runs, '0');
    if (contest.pairs.some(({ finding }) => finding === 'shown')) alarms.pairs += 1;
    if (contest.toBaseline.some(({ finding }) => finding === 'shown')) alarms.base += 1;
  }
  return { pairs: alarms.pairs / evenings, base: alarms.base / evenings };
}

/** Normal to the last digit (Box and Muller): the sum of twelve uniforms has short tails, and these decide. @param {import('../packages/core/dist/numerics/index.js').Noise} noise */
function normal(noise) {
  return Math.sqrt(-2 * Math.log(noise.uniform())) * Math.cos(2 * Math.PI * noise.uniform());
}
