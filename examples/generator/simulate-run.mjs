import { probeIds, probeNodes, readProbe_C } from './device.mjs';
import { idealMounting, makeNetwork, nodes, restingRise_K } from './network.mjs';
import { sensorNoise_K } from './noise.mjs';
import {
  chargingHeat_W,
  heats,
  interval_s,
  loop,
  protocol,
  sensorNoise,
  spreads,
  throttledRatio,
} from './run-plan.mjs';
import { soak } from './soak.mjs';

/**
 * @typedef {import('./network.mjs').SetupId} SetupId
 * @typedef {import('./network.mjs').Mounting} Mounting
 * @typedef {import('./network.mjs').Heat} Heat
 * @typedef {import('./noise.mjs').Random} Random
 * @typedef {{ idleEnd_s: number, loadEnd_s: number, end_s: number }} Marks
 */

/** @param {'idle' | 'load' | 'off'} state @param {boolean} charging @returns {Heat} */
export function heatOf(state, charging) {
  const charge_W = charging ? chargingHeat_W : 0;
  return { ...heats[state], cell1_W: charge_W, cell2_W: charge_W };
}

/**
 * True rises at the probes, at rest.
 *
 * @param {SetupId} setup
 * @param {Mounting} mounting
 * @param {'idle' | 'load'} state
 * @param {boolean} charging
 * @returns {{ z1: number, c1: number, c2: number }} K
 */
export function trueRises_K(setup, mounting, state, charging) {
  const rise_K = restingRise_K(makeNetwork(setup, mounting), heatOf(state, charging));
  const at = (probe) => rise_K[nodes.indexOf(probeNodes[probe])];
  return { z1: at('z1'), c1: at('c1'), c2: at('c2') };
}

/**
 * The factor on one conductance at which cell 1 under load rises by a wanted amount more than without it. Bisection: the rise
 * falls as the conductance grows.
 *
 * @param {SetupId} setup
 * @param {Mounting} mounting
 * @param {'seat' | 'air'} knob
 * @param {number} shift_K
 */
function factorForShift(setup, mounting, knob, shift_K) {
  const rise_K = (factor) => trueRises_K(setup, { ...mounting, [knob]: factor }, 'load', false).c1;
  const wanted_K = rise_K(1) + shift_K;
  let [low, high] = [0.05, 20];
  if (!(rise_K(low) > wanted_K && rise_K(high) < wanted_K)) {
    throw new RangeError(`No ${knob} moves cell 1 of ${setup} by ${shift_K} K.`);
  }
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2;
    if (rise_K(middle) > wanted_K) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * What a session does to all its runs: draughts in the room, as they would move cell 1 with the plate fitted.
 *
 * @param {Random} random
 * @param {number} ambient_C the room as planned
 */
export function drawSession(random, ambient_C) {
  return {
    air: factorForShift('plate', idealMounting, 'air', spreads.session_K * random.normal()),
    ambient_C: ambient_C + spreads.sessionAmbient_K * random.normal(),
  };
}

/** How the pack came to sit this time. @param {Random} random @param {SetupId} setup @param {number} air @returns {Mounting} */
export function drawMounting(random, setup, air) {
  const mounting = {
    seat: 1,
    seatRatio: 1 + spreads.seatRatio * random.normal(),
    zoneBond: 1 + spreads.zoneBond * random.normal(),
    air,
  };
  const shift_K = spreads.mounting_K * random.normal();
  // Cell 1 is to move by the drawn amount and no more, so what the smaller matters did to it is taken back.
  const side_K =
    trueRises_K(setup, mounting, 'load', false).c1 -
    trueRises_K(setup, { ...idealMounting, air }, 'load', false).c1;
  return { ...mounting, seat: factorForShift(setup, mounting, 'seat', shift_K - side_K) };
}

/** Phase ends of one run, whole minutes. @param {Random} random @returns {Marks} */
export function drawMarks(random) {
  const spread_s = () => 60 * Math.round((protocol.spread_s * (2 * random.uniform() - 1)) / 60);
  const idleEnd_s = protocol.idle_s + spread_s();
  const loadEnd_s = idleEnd_s + protocol.load_s;
  return { idleEnd_s, loadEnd_s, end_s: loadEnd_s + protocol.cool_s + spread_s() };
}

/** The room through a run: a drift that eases in and out, and a bow. @param {Random} random */
function drawRoom(random, start_C, end_s, drift_K) {
  const drifted_K = spreads.runDrift_K * random.normal();
  const bow_K = spreads.runBow_K * random.normal();
  const whole_K = drift_K ?? drifted_K;
  return (after_s) => {
    const part = after_s / end_s;
    return start_C + whole_K * part * part * (3 - 2 * part) + 4 * bow_K * part * (1 - part);
  };
}

/** Heat at a moment of a run. @param {import('./run-plan.mjs').PlannedRun} plan @param {Marks} marks */
function heatThrough(plan, marks) {
  const charging = plan.charging ?? false;
  return (after_s) => {
    if (after_s < marks.idleEnd_s) return heatOf('idle', charging);
    if (after_s >= marks.loadEnd_s) return heatOf('off', false);
    const loaded_s = after_s - marks.idleEnd_s;
    const heat = heatOf('load', charging);
    if (plan.looped) heat.zone_W = loaded_s % loop.period_s < loop.busy_s ? loop.busy_W : loop.quiet_W;
    if (plan.throttledAfter_s !== undefined && loaded_s >= plan.throttledAfter_s)
      heat.zone_W *= throttledRatio;
    return heat;
  };
}

/**
 * Readings of one run as the logger took them, before any file is written.
 *
 * @param {Random} random
 * @param {import('./run-plan.mjs').PlannedRun} plan
 * @param {Mounting} mounting
 * @param {number} ambient_C the room at the start
 * @returns {{ marks: Marks, ambientChange_K: number, readings_C: Record<string, (number | 'empty' | 'open')[]> }}
 */
export function simulateRun(random, plan, mounting, ambient_C) {
  const marks = drawMarks(random);
  const room_C = drawRoom(random, ambient_C, marks.end_s, plan.drift_K);
  const warmth = plan.coldStart ? 0.3 : 0.88 + 0.12 * random.uniform();
  const network = makeNetwork(plan.setup, mounting);
  const idle_K = restingRise_K(network, heatOf('idle', plan.charging ?? false));
  const rows = marks.end_s / interval_s + 1;
  const history = soak(network, {
    start_C: idle_K.map((rise_K) => room_C(0) + warmth * rise_K),
    room_C,
    heat: heatThrough(plan, marks),
    rows,
    interval_s,
  });

  /** @type {Record<string, (number | 'empty' | 'open')[]>} */
  const readings_C = {};
  for (const probe of probeIds) {
    const noise_K = sensorNoise_K(random, rows, sensorNoise);
    readings_C[probe] = history.map((level_C, row) => {
      const true_C = probe === 'a' ? room_C(row * interval_s) : level_C[nodes.indexOf(probeNodes[probe])];
      return readProbe_C(probe, true_C) + noise_K[row];
    });
  }
  loseCells(random, plan, readings_C, rows);
  return { marks, ambientChange_K: room_C(marks.loadEnd_s) - room_C(marks.idleEnd_s), readings_C };
}

/** Sensor open for a while, and cells left empty here and there. */
function loseCells(random, plan, readings_C, rows) {
  for (let lost = 0; lost < (plan.missing ?? 0); lost++) {
    const probe = probeIds[Math.floor(probeIds.length * random.uniform())];
    readings_C[probe][1 + Math.floor((rows - 1) * random.uniform())] = 'empty';
  }
  if (plan.dropout === undefined) return;
  const first = plan.dropout.after_s / interval_s;
  const last = first + plan.dropout.for_s / interval_s;
  for (let row = first; row < last; row++) readings_C[plan.dropout.probe][row] = 'open';
}
