import { createHash } from 'node:crypto';
import { inventedDevice, probeFaults, probeIds, readProbe_C } from './device.mjs';
import { idealMounting, makeNetwork, setupIds, timeConstants_s } from './network.mjs';
import { makeRandom } from './noise.mjs';
import {
  chargingHeat_W,
  heats,
  interval_s,
  loop,
  runPlan,
  sensorNoise,
  sessionAmbient_C,
  spreads,
} from './run-plan.mjs';
import { drawMounting, drawSession, simulateRun, trueRises_K } from './simulate-run.mjs';
import { logStyles, writeLog } from './write-logs.mjs';

/** @typedef {import('../../packages/core/src/records/build-record.ts').Build} Build */

/** The seed of the files kept beside this script, chosen so that chance is neither kind nor cruel to them: means near the truth. */
export const demoSeed = 43;

/**
 * Where the probe check was made: QNH 1020 hPa at 500 m. Water then boils at 98.50 °C: 961.04 hPa at the kettle by the standard
 * atmosphere (ISO 2533), and the saturation line of IAPWS R7-97 there.
 */
const kettle = { seaLevel_hPa: 1020, altitude_m: 500, boiling_C: 98.5 };

/** How far the baths themselves were from what they are taken for, and a reading in a bath from its mean; standard deviations, K. */
const baths = { ice_K: 0.01, boiling_K: 0.04, reading_K: 0.04 };

/**
 * One whole invented build: the record, its logs as bytes, and the truth that the logs were made from.
 *
 * The same seed gives the same bytes everywhere. Other seeds give other evenings on the same bench: the set-ups' true rises stay,
 * while mountings, sessions, rooms and noise change. That is what a test of coverage needs.
 *
 * @param {{ seed?: number }} [options]
 * @returns {{ build: Build, logs: Map<string, Uint8Array>, truth: ReturnType<typeof truthOf> }}
 */
export function makeBuild({ seed = demoSeed } = {}) {
  const random = makeRandom(seed);
  const before = drawProbeCheck(random, { id: 'ice-and-boiling', at: '2025-03-07T19:30:00Z' });
  const sessions = Object.fromEntries(
    Object.entries(sessionAmbient_C).map(([name, ambient_C]) => [name, drawSession(random, ambient_C)]),
  );
  const logs = new Map();
  const runs = [];
  const runTruths = [];
  for (const [index, plan] of runPlan.entries()) {
    const { run, bytes, truth } = makeRun(random, plan, index + 1, sessions[plan.session]);
    logs.set(run.log.file, bytes);
    runs.push(run);
    runTruths.push(truth);
  }
  // Drawn last, so that what a seed gave before there was a second check it still gives.
  const after = drawProbeCheck(random, { id: 'ice-and-boiling-after', at: '2025-03-23T17:30:00Z' });
  const build = structuredClone({ ...inventedDevice, probeChecks: [before, after], runs });
  return { build, logs, truth: truthOf(seed, sessions, runTruths) };
}

/** @param {import('./run-plan.mjs').PlannedRun} plan */
function makeRun(random, plan, number, session) {
  const id = `run-${String(number).padStart(2, '0')}`;
  const style = logStyles[plan.style];
  const mounting = drawMounting(random, plan.setup, session.air);
  const { marks, ambientChange_K, readings_C } = simulateRun(random, plan, mounting, session.ambient_C);
  const { bytes, recipe } = writeLog(style, plan.startedAt, readings_C);
  const charging = plan.charging ?? false;
  const run = {
    id,
    name: `Run ${number}, ${inventedDevice.setups.find(({ id }) => id === plan.setup)?.name}${charging ? ', charging' : ''}`,
    log: {
      file: `invented-${String(number).padStart(2, '0')}-${plan.setup}${charging ? '-charging' : ''}.${style.extension}`,
      sha256: createHash('sha256').update(bytes).digest('hex'),
    },
    setup: plan.setup,
    mounting: `mounting ${number}`,
    session: plan.session,
    startedAt: plan.startedAt,
    conditions: {
      load_W: 5.2,
      load_u_W: 0.05,
      charging,
      note: plan.looped
        ? 'Invented. Recording in a loop of 6 min, mean 5.2 W.'
        : 'Invented. Recording without a break at 5.2 W.',
    },
    recipe,
    ...(plan.throttledAfter_s === undefined
      ? {}
      : { setAside: 'Throttled: the processor gave off less heat from the second hour of the load.' }),
  };
  const truth = {
    run: id,
    setup: plan.setup,
    session: plan.session,
    charging,
    looped: plan.looped ?? false,
    throttledAt_s: plan.throttledAfter_s === undefined ? null : marks.idleEnd_s + plan.throttledAfter_s,
    idleSettled: !plan.coldStart,
    dropout: plan.dropout ?? null,
    missingCells: plan.missing ?? 0,
    ...marks,
    ambientChange_K: digits(ambientChange_K, 3),
    rises_K: {
      idle: rounded(trueRises_K(plan.setup, mounting, 'idle', charging)),
      load: rounded(trueRises_K(plan.setup, mounting, 'load', charging)),
    },
  };
  return { run, bytes, truth };
}

/**
 * Ice and boiling water before the first session, each probe read twice in each.
 *
 * @param {import('./noise.mjs').Random} random
 * @returns {Build['probeChecks'][number]}
 */
function drawProbeCheck(random, { id, at }) {
  const bathOf = (reference, nominal_C, spread_K) => {
    const true_C = nominal_C + spread_K * random.normal();
    const readings = [];
    for (let time = 0; time < 2; time++) {
      for (const probe of probeIds) {
        const reading_C = readProbe_C(probe, true_C) + baths.reading_K * random.normal();
        readings.push({ probe, reading_C: digits(reading_C, 1) });
      }
    }
    return { reference, readings };
  };
  const { seaLevel_hPa, altitude_m, boiling_C } = kettle;
  return {
    id,
    at,
    model: 'offset-gain',
    points: [
      bathOf({ kind: 'ice' }, 0, baths.ice_K),
      bathOf({ kind: 'boiling', seaLevel_hPa, altitude_m }, boiling_C, baths.boiling_K),
    ],
    note: 'Invented. Crushed ice in water, then a rolling boil, each probe read twice.',
  };
}

/** What the logs were made from. A load-phase rise is the mean over whole loops, at 5.2 W. */
function truthOf(seed, sessions, runs) {
  return {
    note: 'Invented: the truth behind the invented logs of the Reedling R2. Rises are at rest, above the room, in K. "setups" hold for the ideal mounting; each run has rises of its own, moved by its mounting and session.',
    invented: true,
    seed,
    interval_s,
    heats_W: { idle: heats.idle, load: heats.load, chargingPerCell: chargingHeat_W },
    loop,
    spreads,
    sensorNoise,
    probes: probeFaults,
    probeRule: 'reading = gain x true temperature in °C + offset_K',
    setups: setupIds.map((id) => ({
      setup: id,
      rises_K: {
        idle: rounded(trueRises_K(id, idealMounting, 'idle', false)),
        load: rounded(trueRises_K(id, idealMounting, 'load', false)),
        chargingIdle: rounded(trueRises_K(id, idealMounting, 'idle', true)),
        chargingLoad: rounded(trueRises_K(id, idealMounting, 'load', true)),
      },
      timeConstants_s: timeConstants_s(makeNetwork(id)).map((tau_s) => digits(tau_s, 1)),
    })),
    sessions: Object.entries(sessions).map(([session, { ambient_C }]) => ({
      session,
      ambient_C: digits(ambient_C, 3),
    })),
    runs,
  };
}

/** Fixed decimals, so that the last bit of a double cannot change a file. */
function digits(value, decimals) {
  return Number(value.toFixed(decimals));
}

function rounded(rises_K) {
  return Object.fromEntries(Object.entries(rises_K).map(([probe, rise_K]) => [probe, digits(rise_K, 5)]));
}
