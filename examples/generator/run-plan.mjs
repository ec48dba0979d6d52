/**
 * The runs in the order they were made: which set-up on which day, written by which logger, and what went wrong in which.
 *
 * Each set-up has three counted runs over the three sessions, not all in every session, but so that every set-up can be
 * compared with every other within some session.
 *
 * @typedef {object} PlannedRun
 * @property {string} session the session's first day
 * @property {string} startedAt
 * @property {string} setup
 * @property {string} style a key of `logStyles`
 * @property {boolean} [looped] the load repeats every six minutes
 * @property {boolean} [charging] the pack is charged through idle and load
 * @property {boolean} [coldStart] the device starts far below its idle temperature, so idle does not settle
 * @property {number} [throttledAfter_s] from here in the load, the processor gives off half its heat
 * @property {{ probe: string, after_s: number, for_s: number }} [dropout] sensor open, counted from the first row
 * @property {number} [missing] this many single cells are empty
 * @property {number} [drift_K] how far the room moves over the whole run, where it is not left to chance
 */

/** @type {readonly PlannedRun[]} */
export const runPlan = [
  { session: '2025-03-08', startedAt: '2025-03-08T08:40:00Z', setup: 'bare', style: 'iso' },
  { session: '2025-03-08', startedAt: '2025-03-08T12:55:00Z', setup: 'film', style: 'date-two-columns' },
  {
    session: '2025-03-08',
    startedAt: '2025-03-08T17:10:00Z',
    setup: 'plate',
    style: 'clock-preamble',
    missing: 6,
  },
  {
    session: '2025-03-08',
    startedAt: '2025-03-09T09:05:00Z',
    setup: 'film',
    style: 'elapsed-seconds',
    coldStart: true,
  },

  {
    session: '2025-03-15',
    startedAt: '2025-03-15T08:30:00Z',
    setup: 'plate',
    style: 'iso',
    looped: true,
    drift_K: 1,
    dropout: { probe: 'c2', after_s: 5640, for_s: 180 },
  },
  {
    session: '2025-03-15',
    startedAt: '2025-03-15T12:50:00Z',
    setup: 'bare',
    style: 'fahrenheit',
    looped: true,
  },
  {
    session: '2025-03-15',
    startedAt: '2025-03-15T17:05:00Z',
    setup: 'plate',
    style: 'iso-two-columns',
    looped: true,
    throttledAfter_s: 3900,
  },
  { session: '2025-03-15', startedAt: '2025-03-15T21:20:00Z', setup: 'strips', style: 'clock', looped: true },
  {
    session: '2025-03-15',
    startedAt: '2025-03-16T09:00:00Z',
    setup: 'plate',
    style: 'elapsed-hms',
    looped: true,
    charging: true,
  },

  {
    session: '2025-03-22',
    startedAt: '2025-03-22T08:20:00Z',
    setup: 'strips',
    style: 'epoch',
    looped: true,
    missing: 4,
  },
  {
    session: '2025-03-22',
    startedAt: '2025-03-22T12:35:00Z',
    setup: 'bare',
    style: 'iso-offset',
    looped: true,
    coldStart: true,
  },
  {
    session: '2025-03-22',
    startedAt: '2025-03-22T16:50:00Z',
    setup: 'plate',
    style: 'counted-rows',
    looped: true,
  },
  {
    session: '2025-03-22',
    startedAt: '2025-03-22T21:00:00Z',
    setup: 'film',
    style: 'western-europe',
    looped: true,
  },
  {
    session: '2025-03-22',
    startedAt: '2025-03-23T08:45:00Z',
    setup: 'strips',
    style: 'month-first',
    looped: true,
  },
  {
    session: '2025-03-22',
    startedAt: '2025-03-23T13:00:00Z',
    setup: 'plate',
    style: 'tabs',
    looped: true,
    charging: true,
  },
];

/** Rows are this far apart in every log. */
export const interval_s = 10;

/** The plan of each run, in seconds; idle and cool vary a little, as they do when a person ends them. */
export const protocol = { idle_s: 3300, load_s: 7200, cool_s: 1800, spread_s: 240 };

/** Heat in each state, W. The load is 3.9 W on average whether it loops or not. */
export const heats = {
  idle: { zone_W: 0.45, board_W: 0.8, cell1_W: 0, cell2_W: 0 },
  load: { zone_W: 2, board_W: 1.9, cell1_W: 0, cell2_W: 0 },
  off: { zone_W: 0, board_W: 0, cell1_W: 0, cell2_W: 0 },
};

/** The load as it is metered, W. */
export const load_W = heats.load.zone_W + heats.load.board_W;

/** What charging adds in each cell, W. */
export const chargingHeat_W = 0.18;

/** A loop of the load: the processor works hard for 70 % of it. The mean is 0.7 x 2.12 + 0.3 x 1.72 = 2 W. */
export const loop = { period_s: 360, busy_s: 252, busy_W: 2.12, quiet_W: 1.72 };

/** What is left of the processor's heat once it has throttled. */
export const throttledRatio = 0.5;

/** Chance, as standard deviations: the seat of the pack and the session as they move cell 1 under load, and smaller matters. */
export const spreads = {
  mounting_K: 0.45,
  session_K: 0.2,
  seatRatio: 0.06,
  zoneBond: 0.02,
  sessionAmbient_K: 0.3,
  runDrift_K: 0.3,
  runBow_K: 0.12,
};

/** The room at the start of each session, °C, before chance. */
export const sessionAmbient_C = { '2025-03-08': 23.6, '2025-03-15': 25.4, '2025-03-22': 24.4 };

/** Noise of a reading before it is rounded, K. */
export const sensorNoise = { red_K: 0.05, memory: 0.9, white_K: 0.03 };
