import { probeIds, readProbe_C } from './device.mjs';
import { findModes } from './modes.mjs';
import { heatOfNodes, idealMounting, layersOf, makeNetwork, restingRises_K } from './network.mjs';
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
 * @typedef {import('./network.mjs').Mounting} Mounting
 * @typedef {import('./network.mjs').Heat} Heat
 * @typedef {import('./noise.mjs').Random} Random
 * @typedef {import('./properties.mjs').Properties} Properties
 * @typedef {{ idleEnd_s: number, loadEnd_s: number, end_s: number }} Marks
 */

/** @param {'idle' | 'load' | 'off'} state @param {boolean} charging @returns {Heat} */
export function heatOf(state, charging) {
  const charge_W = charging ? chargingHeat_W : 0;
  return { ...heats[state], cell1_W: charge_W, cell2_W: charge_W };
}

/** Rises at the probes, at rest under load and not charging. @param {string} setup @param {Mounting} mounting @param {Properties} of */
function loadRises_K(setup, mounting, of) {
  return restingRises_K(makeNetwork(layersOf(setup), mounting, of), [heatOf('load', false)])[0];
}

/** What a factor on a conductance may be; beyond, the wish is out of reach. */
const factors = { least: 0.05, most: 20 };

/** How far cell 1 moves, K, when the resistance of a conductance grows by all of itself: about, to begin a search with. */
const about_K = { seat: 3, air: 13 };

/**
 * The factor on one conductance at which cell 1 under load has a wanted rise. The rise is nearly straight in the resistance, so a
 * secant through the last two tries soon hits it.
 *
 * @param {string} setup
 * @param {Mounting} mounting
 * @param {'seat' | 'air'} knob
 * @param {{ plain_K: number, wanted_K: number }} rises without a factor, and as wanted
 * @param {Properties} of
 */
function factorForRise(setup, mounting, knob, { plain_K, wanted_K }, of) {
  const rise_K = (resistance) => loadRises_K(setup, { ...mounting, [knob]: 1 / resistance }, of).c1;
  let [last, last_K] = [1, plain_K];
  let next = 1 + (wanted_K - plain_K) / about_K[knob];
  for (let attempt = 0; attempt < 20; attempt++) {
    if (Math.abs(wanted_K - last_K) < 1e-6) return 1 / last;
    if (!(next > 1 / factors.most && next < 1 / factors.least)) break;
    const next_K = rise_K(next);
    const slope = (next_K - last_K) / (next - last);
    [last, last_K, next] = [next, next_K, next + (wanted_K - next_K) / slope];
  }
  throw new RangeError(`No ${knob} brings cell 1 of ${setup} from ${plain_K} K to ${wanted_K} K.`);
}

/**
 * What a session does to all its runs: draughts in the room, as they would move cell 1 with the plate fitted.
 *
 * @param {Random} random
 * @param {number} ambient_C the room as planned
 * @param {Properties} of
 */
export function drawSession(random, ambient_C, of) {
  const plain_K = loadRises_K('plate', idealMounting, of).c1;
  const wanted_K = plain_K + spreads.session_K * random.normal();
  return {
    air: factorForRise('plate', idealMounting, 'air', { plain_K, wanted_K }, of),
    ambient_C: ambient_C + spreads.sessionAmbient_K * random.normal(),
  };
}

/**
 * How the pack came to sit this time.
 *
 * @param {Random} random
 * @param {string} setup
 * @param {number} air
 * @param {Properties} of
 * @returns {Mounting}
 */
export function drawMounting(random, setup, air, of) {
  const mounting = {
    seat: 1,
    seatRatio: 1 + spreads.seatRatio * random.normal(),
    zoneBond: 1 + spreads.zoneBond * random.normal(),
    air,
  };
  // Cell 1 is to move by the drawn amount and no more, so what the smaller matters did to it is taken back.
  const wanted_K =
    loadRises_K(setup, { ...idealMounting, air }, of).c1 + spreads.mounting_K * random.normal();
  const plain_K = loadRises_K(setup, mounting, of).c1;
  return { ...mounting, seat: factorForRise(setup, mounting, 'seat', { plain_K, wanted_K }, of) };
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

/** What the modes of a run are driven by, 1 W of each: the processor, the other zones, both cells. */
const unitHeats = [
  { zone_W: 1, board_W: 0, cell1_W: 0, cell2_W: 0 },
  { zone_W: 0, board_W: 1, cell1_W: 0, cell2_W: 0 },
  { zone_W: 0, board_W: 0, cell1_W: 1, cell2_W: 1 },
];
/** @param {Heat} heat */
const asInputs = (heat) => [heat.zone_W, heat.board_W, heat.cell1_W];

/**
 * Heat at a moment of a run, W of each input; the same array as long as nothing changes.
 *
 * @param {import('./run-plan.mjs').PlannedRun} plan
 * @param {Marks} marks
 */
function heatThrough(plan, marks) {
  const charging = plan.charging ?? false;
  const idle = asInputs(heatOf('idle', charging));
  const off = asInputs(heatOf('off', false));
  const load = heatOf('load', charging);
  const level = (zone_W) => ({
    full: asInputs({ ...load, zone_W }),
    throttled: asInputs({ ...load, zone_W: zone_W * throttledRatio }),
  });
  const [steady, busy, quiet] = [load.zone_W, loop.busy_W, loop.quiet_W].map(level);
  const throttledAfter_s = plan.throttledAfter_s ?? Number.POSITIVE_INFINITY;
  return (after_s) => {
    if (after_s < marks.idleEnd_s) return idle;
    if (after_s >= marks.loadEnd_s) return off;
    const loaded_s = after_s - marks.idleEnd_s;
    const isBusy = loaded_s % loop.period_s < loop.busy_s;
    const now = !plan.looped ? steady : isBusy ? busy : quiet;
    return loaded_s >= throttledAfter_s ? now.throttled : now.full;
  };
}

/**
 * Readings of one run as the logger took them, before any file is written.
 *
 * @param {Random} random
 * @param {import('./run-plan.mjs').PlannedRun} plan
 * @param {ReturnType<typeof makeNetwork>} network the set-up as mounted
 * @param {number} ambient_C the room at the start
 * @returns {{ marks: Marks, ambientChange_K: number, readings_C: Record<string, (number | 'empty' | 'open')[]> }}
 */
export function simulateRun(random, plan, network, ambient_C) {
  const marks = drawMarks(random);
  const room_C = drawRoom(random, ambient_C, marks.end_s, plan.drift_K);
  const warmth = plan.coldStart ? 0.3 : 0.88 + 0.12 * random.uniform();
  const rows = marks.end_s / interval_s + 1;
  const modes = findModes(
    network,
    unitHeats.map((unit) => heatOfNodes(network, unit)),
    [network.probes.z1, network.probes.c1, network.probes.c2],
  );
  const [z1, c1, c2] = soak(modes, {
    start: asInputs(heatOf('idle', plan.charging ?? false)),
    warmth,
    room_C,
    heat: heatThrough(plan, marks),
    rows,
    interval_s,
  });

  const rises_K = { z1, c1, c2 };
  /** @type {Record<string, (number | 'empty' | 'open')[]>} */
  const readings_C = {};
  for (const probe of probeIds) {
    const noise_K = sensorNoise_K(random, rows, sensorNoise);
    readings_C[probe] = noise_K.map((off_K, row) => {
      const rise_K = probe === 'a' ? 0 : rises_K[probe][row];
      return readProbe_C(probe, room_C(row * interval_s) + rise_K) + off_K;
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
