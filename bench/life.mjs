// @ts-check
/**
 * 10 000 draws of a five-year forecast for a pack of four cells, each year hour by hour, on one core; against the plain way in the same
 * run: the same hours summed one by one for each draw, timed on a few and scaled up. Goal: under 2 s. It needs the built packages. Run it with: node bench/life.mjs
 */
import {
  compareWhatIfs,
  dutyPresets,
  followYear,
  forecastLife,
  layOutYear,
  modelFamily,
  openCircuitOf,
} from '../packages/core/dist/life/index.js';

const draws = 10_000;
const duty = dutyPresets.find(({ id }) => id === 'heavy-handheld')?.duty;
if (!duty) throw new Error('There is no such preset.');
/** @param {number} value */
const rise = (value) => ({ value, u: 1, dof: 8 });
/** @param {string} setup @param {number[]} use_K */
const setup = (setup, use_K) => ({
  setup,
  name: setup,
  rises: { use: use_K.map(rise), charging: [rise(13)], docked: [rise(13)] },
});
const pack = { chemistry: 'LCO', series: 4, energy_Wh: 60 };
/** @param {ReturnType<typeof setup>[]} setups @returns {import('../packages/core/dist/life/index.js').LifeInput} */
const input = (setups) => ({ pack, duty, setups, draws, horizon_years: 5, seed: 11 });

/** @param {() => unknown} work @param {number} times */
function bestOf(work, times) {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < times; i++) {
    const before = performance.now();
    work();
    best = Math.min(best, performance.now() - before);
  }
  return best / 1000;
}

const bare = setup('bare', [20, 19, 17, 16]);
const plate = setup('plate', [17, 16, 15, 14]);
const one_s = bestOf(() => forecastLife(input([bare])), 5);
const two_s = bestOf(() => forecastLife(input([bare, plate])), 3);
const asked_s = bestOf(() => compareWhatIfs({ ...input([bare]), draws: 2000 }, 'bare'), 3);

/**
 * One draw the plain way: five years of 8760 hours for four cells, each hour with its own temperature and charge, and each year laid out
 * anew for the capacity that is left. Wear by cycling is left out, which spares this way time.
 */
const curve = openCircuitOf('LCO');
const family = modelFamily('LCO', 0.5);
const charger = { ...duty, charging: { ...duty.charging, charge_W: 0.35 * pack.energy_Wh } };
/** @param {number} index */
function plainDraw(index) {
  const member = family[index % family.length];
  if (!member) throw new Error('There is no such model.');
  let sum = 0;
  for (const use_K of [20, 19, 17, 16]) {
    const ages = member.capacity.map(() => 0);
    let loss = 0;
    for (let y = 0; y < 5; y++) {
      const year = layOutYear(charger, Math.max(0.8, 1 - loss) * pack.energy_Wh);
      const rises_K = year.states.map((state) => (state === 'use' ? use_K : state === 'rest' ? 0 : 13));
      const { cell_C, charge } = followYear(year, rises_K);
      loss = 0;
      for (const [m, { agePerDay, lossAt }] of member.capacity.entries()) {
        if (!agePerDay) continue;
        for (let hour = 0; hour < 8760; hour++) {
          const at = charge[hour] ?? 0;
          ages[m] =
            (ages[m] ?? 0) +
            agePerDay({ temp_K: (cell_C[hour] ?? 0) + 273.15, charge: at, cell_V: curve.voltageAt(at) }) / 24;
        }
        loss += lossAt(ages[m] ?? 0);
      }
    }
    sum += loss;
  }
  return sum;
}
const few = 2 * family.length;
const plain_s =
  (draws / few) *
  bestOf(() => {
    for (let i = 0; i < few; i++) plainDraw(i);
  }, 2);

/** @param {string} name @param {number} seconds */
const line = (name, seconds) => console.log(`${name.padEnd(58)} ${seconds.toFixed(2).padStart(8)} s`);
line(`${draws} draws, 5 years, 4 cells, one set-up (goal under 2)`, one_s);
line('the same for two set-ups', two_s);
line('what-ifs, 2000 draws each', asked_s);
line(`the plain way, ${few} draws scaled up to ${draws}`, plain_s);
console.log(`quick against plain: ${(plain_s / one_s).toFixed(0)} times`);
