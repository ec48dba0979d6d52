import { createHash } from 'node:crypto';
import { inventedDevice, probeFaults, probeIds, readProbe_C } from './device.mjs';
import { findModes } from './modes.mjs';
import { heatOfNodes, idealMounting, layersOf, makeNetwork, restingRises_K } from './network.mjs';
import { makeRandom } from './noise.mjs';
import { demoProperties, drawProperties } from './properties.mjs';
import {
  chargingHeat_W,
  heats,
  interval_s,
  load_W,
  loop,
  runPlan,
  sensorNoise,
  sessionAmbient_C,
  spreads,
} from './run-plan.mjs';
import { drawMounting, drawSession, heatOf, simulateRun } from './simulate-run.mjs';
import { untriedSetups } from './untried.mjs';
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
 * while mountings, sessions, rooms and noise change. That is what a test of coverage needs. With `device: 'varied'` the seed also draws
 * another device, built to the same drawing from other properties: what a test of predictions needs.
 *
 * @param {{ seed?: number, device?: 'demo' | 'varied' }} [options]
 * @returns {{ build: Build, logs: Map<string, Uint8Array>, truth: ReturnType<typeof truthOf> }}
 */
export function makeBuild({ seed = demoSeed, device = 'demo' } = {}) {
  if (device !== 'demo' && device !== 'varied') {
    throw new RangeError(`device must be 'demo' or 'varied', received '${device}'.`);
  }
  const random = makeRandom(seed);
  const of = device === 'varied' ? drawProperties(random) : demoProperties;
  const before = drawProbeCheck(random, { id: 'ice-and-boiling', at: '2025-03-07T19:30:00Z' });
  const sessions = Object.fromEntries(
    Object.entries(sessionAmbient_C).map(([name, ambient_C]) => [name, drawSession(random, ambient_C, of)]),
  );
  const logs = new Map();
  const runs = [];
  const runTruths = [];
  for (const [index, plan] of runPlan.entries()) {
    const { run, bytes, truth } = makeRun(random, plan, index + 1, sessions[plan.session], of);
    logs.set(run.log.file, bytes);
    runs.push(run);
    runTruths.push(truth);
  }
  // Drawn last, so that what a seed gave before there was a second check it still gives.
  const after = drawProbeCheck(random, { id: 'ice-and-boiling-after', at: '2025-03-23T17:30:00Z' });
  const build = structuredClone({ ...inventedDevice, probeChecks: [before, after], runs });
  return { build, logs, truth: truthOf(seed, device, of, sessions, runTruths) };
}

/** @param {import('./run-plan.mjs').PlannedRun} plan */
function makeRun(random, plan, number, session, of) {
  const id = `run-${String(number).padStart(2, '0')}`;
  const style = logStyles[plan.style];
  const mounting = drawMounting(random, plan.setup, session.air, of);
  const network = makeNetwork(layersOf(plan.setup), mounting, of);
  const { marks, ambientChange_K, readings_C } = simulateRun(random, plan, network, session.ambient_C);
  const { bytes, recipe } = writeLog(style, plan.startedAt, readings_C);
  const charging = plan.charging ?? false;
  const [idle_K, load_K] = restingRises_K(network, [heatOf('idle', charging), heatOf('load', charging)]);
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
      load_W: digits(load_W, 2),
      load_u_W: 0.04,
      charging,
      note: plan.looped
        ? 'Invented. Recording in a loop of 6 min, mean 3.9 W.'
        : 'Invented. Recording without a break at 3.9 W.',
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
    rises_K: { idle: rounded(idle_K), load: rounded(load_K) },
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

/** What the logs were made from. A load-phase rise is the mean over whole loops, at 3.9 W. */
function truthOf(seed, device, of, sessions, runs) {
  return {
    note: 'Invented: the truth behind the invented logs of the Reedling R2. Rises are at rest, above the room, in K. "setups" hold for the ideal mounting; each run has rises of its own, moved by its mounting and session. "untried" set-ups are in no run. What each of the "properties" means stands in examples/generator/properties.mjs.',
    invented: true,
    seed,
    device,
    interval_s,
    heats_W: { idle: heats.idle, load: heats.load, chargingPerCell: chargingHeat_W },
    loop,
    spreads,
    sensorNoise,
    probes: probeFaults,
    probeRule: 'reading = gain x true temperature in °C + offset_K',
    properties: of,
    ...setupsOf(of),
    sessions: Object.entries(sessions).map(([session, { ambient_C }]) => ({
      session,
      ambient_C: digits(ambient_C, 3),
    })),
    runs,
  };
}

/** The demo's own device has the same truth for every seed. */
const known = new WeakMap();

/** @param {import('./properties.mjs').Properties} of */
function setupsOf(of) {
  const before = known.get(of);
  if (before !== undefined) return structuredClone(before);
  const setups = {
    setups: inventedDevice.setups.map(({ id, layers }) => truthOfSetup(id, layers, of)),
    untried: untriedSetups.map(({ id, name, layers }) => ({ ...truthOfSetup(id, layers, of), name, layers })),
  };
  known.set(of, setups);
  return structuredClone(setups);
}

/** Rises of a set-up in each state, and its slowest time constants as cell 1 under load shows them. */
function truthOfSetup(setup, layers, of) {
  const network = makeNetwork(layers, idealMounting, of);
  const heatsOf = [heatOf('idle', false), heatOf('load', false), heatOf('idle', true), heatOf('load', true)];
  const [idle, load, chargingIdle, chargingLoad] = restingRises_K(network, heatsOf).map(rounded);
  const { rates } = findModes(network, [heatOfNodes(network, heatsOf[1])], [network.probes.c1]);
  return {
    setup,
    rises_K: { idle, load, chargingIdle, chargingLoad },
    timeConstants_s: [...rates].slice(0, 3).map((rate) => digits(1 / rate, 1)),
  };
}

/** Fixed decimals, so that the last bit of a double cannot change a file. */
function digits(value, decimals) {
  return Number(value.toFixed(decimals));
}

function rounded(rises_K) {
  return Object.fromEntries(Object.entries(rises_K).map(([probe, rise_K]) => [probe, digits(rise_K, 5)]));
}
