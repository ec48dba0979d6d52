// How often predictions of untried set-ups hold what they would really do, over invented devices drawn at random: node bench/heat-coverage.mjs [devices] [full]
// The truth comes from a lumped network that shares no code with the model. With `full` on the grid that pages use, else on merged cells.
import { argv } from 'node:process';
import { coarsen, HeatBench, soakGrid } from '@soakbench/core/heat';
import { assessBuild } from '@soakbench/core/verdict';
import { makeBuild } from '../examples/generator/scenario.mjs';

const devices = Number(argv[2] ?? 12);
const grid = argv[3] === 'full' ? soakGrid : coarsen(soakGrid);
/** 95 % of Student's t with the five degrees of freedom that predictions state. */
const reach = 2.571;

const rows = [];
const left = [];
for (let seed = 2001; seed < 2001 + devices; seed++) {
  const { build, logs, truth } = makeBuild({ seed, device: 'varied' });
  const { compare, probes } = assessBuild(build, (file) => logs.get(file));
  const contests = [...(compare.main === null ? [] : [compare.main]), ...compare.others];
  const bench = new HeatBench(build, contests, probes.corrections, grid);
  const calibrated = bench.calibrate();
  if (!calibrated.ok) {
    console.log(`device ${seed}: ${calibrated.reason.kind}`);
    continue;
  }
  if (bench.leftOut !== null) left.push(bench.leftOut.cells_K);
  const devRows = [];
  for (const untried of truth.untried) {
    const predicted = bench.predict(
      { id: untried.setup, name: untried.name, layers: untried.layers },
      { charging: false, load_W: null },
    );
    if (!predicted.ok) throw new Error(predicted.reason.kind);
    for (const { target, rise_K } of predicted.value.rises) {
      if (target.probe === null) continue;
      const error_K = rise_K.value - untried.rises_K.load[target.probe];
      devRows.push({ setup: untried.setup, probe: target.probe, error_K, u_K: rise_K.u });
    }
  }
  rows.push(...devRows);
  console.log(
    `device ${seed}: worst ${Math.max(...devRows.map(({ error_K }) => Math.abs(error_K))).toFixed(2)} K, outside 95 %: ${devRows.filter(isOut).length} of ${devRows.length}; left out ${bench.leftOut?.cells_K?.toFixed(2)} K, widened ${bench.leftOut?.widening.toFixed(2)}`,
  );
}

function isOut({ error_K, u_K }) {
  return Math.abs(error_K) > reach * u_K;
}
const rms = (values) => Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
const groups = [...new Set(rows.map(({ setup, probe }) => `${setup} ${probe}`))];
console.log('\nset-up and probe         error K   stated u K   inside 95 %');
for (const group of groups) {
  const mine = rows.filter(({ setup, probe }) => `${setup} ${probe}` === group);
  console.log(
    `${group.padEnd(24)} ${rms(mine.map(({ error_K }) => error_K))
      .toFixed(2)
      .padStart(6)} ${rms(mine.map(({ u_K }) => u_K))
      .toFixed(2)
      .padStart(
        11,
      )} ${((100 * mine.filter((row) => !isOut(row)).length) / mine.length).toFixed(0).padStart(10)} %`,
  );
}
console.log(
  `all                      ${rms(rows.map(({ error_K }) => error_K))
    .toFixed(2)
    .padStart(6)} ${rms(rows.map(({ u_K }) => u_K))
    .toFixed(2)
    .padStart(
      11,
    )} ${((100 * rows.filter((row) => !isOut(row)).length) / rows.length).toFixed(1).padStart(10)} % of ${rows.length}; nominal 95`,
);
console.log(`left-out error at the cells, root mean square over devices: ${rms(left).toFixed(2)} K`);
