// @ts-check
/**
 * Sound runs spoiled by faults of a known strength. A device's rises are linear in its heat to good accuracy, so less heat from some moment on is the run's own
 * answer to its load, taken off in part and later: no model of the device is needed.
 *
 * @typedef {object} Reading
 * @property {string[]} probes
 * @property {Float64Array} after_s
 * @property {Float64Array[]} columns °C
 * @property {{ from_s: number, to_s: number }} load
 *
 * @typedef {(reading: Reading, column: Float64Array, probe: string) => Float64Array} Change
 */

const isRoom = (/** @type {string} */ probe) => probe === 'a';

/** Which row is the first at or behind a time. @param {Float64Array} after_s @param {number} at_s */
export function rowAt(after_s, at_s) {
  const row = after_s.findIndex((each) => each >= at_s);
  return row < 0 ? after_s.length : row;
}

/** What the load adds to a column, a time after it came on, freed of noise by means over two minutes either way. @param {Reading} reading @param {Float64Array} column */
function loadAnswer({ after_s, load }, column) {
  const first = rowAt(after_s, load.from_s);
  const smooth = (/** @type {number} */ row) => {
    let sum = 0;
    let count = 0;
    for (let near = Math.max(0, row - 12); near <= Math.min(column.length - 1, row + 12); near++) {
      const value = column[near] ?? Number.NaN;
      if (Number.isNaN(value)) continue;
      sum += value;
      count++;
    }
    return sum / count;
  };
  const before = smooth(Math.max(0, first - 14));
  return (/** @type {number} */ rows) => (rows <= 0 ? 0 : smooth(first + rows) - before);
}

/** The load gives off a share less heat from a moment on, until it ends. @param {number} share @param {number} into_s @returns {Change} */
export const throttle = (share, into_s) => (reading, column, probe) => {
  if (isRoom(probe)) return column;
  const answer = loadAnswer(reading, column);
  const from = rowAt(reading.after_s, reading.load.from_s + into_s);
  const to = rowAt(reading.after_s, reading.load.to_s);
  return column.map(
    (value, row) => value - share * (answer(row - from) - answer(Math.min(row - to, row - from))),
  );
};

/** The device came in colder than its idle, and so much was still to go when the load came on, K. @param {number} left_K @param {number} tau_s @returns {Change} */
export const startCold =
  (left_K, tau_s = 1500) =>
  ({ after_s, load }, column, probe) =>
    isRoom(probe)
      ? column
      : column.map((value, row) => value - left_K * Math.exp((load.from_s - (after_s[row] ?? 0)) / tau_s));

/** One probe repeats itself from a moment of the load to the end of the log. @param {string} which @param {number} into_s @returns {Change} */
export const freeze =
  (which, into_s) =>
  ({ after_s, load }, column, probe) => {
    if (probe !== which) return column;
    const from = rowAt(after_s, load.from_s + into_s);
    return column.map((value, row) => (row < from ? value : (column[from] ?? value)));
  };

/** One probe without readings for a while, in the last half hour of the load. @param {string} which @param {number} for_s @returns {Change} */
export const drop =
  (which, for_s) =>
  ({ after_s, load }, column, probe) => {
    if (probe !== which) return column;
    const from_s = load.to_s - 1800;
    return column.map((value, row) => {
      const at_s = after_s[row] ?? 0;
      return at_s >= from_s && at_s < from_s + for_s ? Number.NaN : value;
    });
  };

/** The load was another one, and nobody noted it: every rise it makes is larger by a share. @param {number} share @returns {Change} */
export const overload = (share) => (reading, column, probe) => {
  if (isRoom(probe)) return column;
  const answer = loadAnswer(reading, column);
  const from = rowAt(reading.after_s, reading.load.from_s);
  return column.map((value, row) => value + share * answer(row - from));
};

/** The room drifts in a straight line through the load, and the device follows with its lag. @param {number} by_K @returns {Change} */
export const drift =
  (by_K, lag_s = 1500) =>
  ({ after_s, load }, column, probe) => {
    const slope = by_K / (load.to_s - load.from_s);
    return column.map((value, row) => {
      const t_s = Math.max(0, (after_s[row] ?? 0) - load.from_s);
      const felt_s = isRoom(probe) ? t_s : t_s - lag_s * (1 - Math.exp(-t_s / lag_s));
      return value + slope * felt_s;
    });
  };

/** Two probes with their plugs exchanged. @param {string} one @param {string} other @returns {(reading: Reading) => Float64Array[]} */
export const exchange =
  (one, other) =>
  ({ probes, columns }) => {
    const [i, j] = [probes.indexOf(one), probes.indexOf(other)];
    return columns.map((column, at) => (at === i ? columns[j] : at === j ? columns[i] : column) ?? column);
  };

/** The log ends so far into the load. @param {Reading} reading @param {number} into_s @returns {Reading} */
export function cutShort(reading, into_s) {
  const rows = rowAt(reading.after_s, reading.load.from_s + into_s);
  return {
    ...reading,
    after_s: reading.after_s.slice(0, rows),
    columns: reading.columns.map((column) => column.slice(0, rows)),
  };
}

/** A log a person could have written, °C to a tenth, with the recipe to read it by. @param {Pick<Reading, 'probes' | 'after_s' | 'columns'>} reading */
export function writeReading({ probes, after_s, columns }) {
  const rows = [['s', ...probes].join(',')];
  for (const [row, at_s] of after_s.entries())
    rows.push(
      [at_s, ...columns.map((column) => (Number.isNaN(column[row]) ? '' : column[row]?.toFixed(1)))].join(
        ',',
      ),
    );
  return {
    bytes: new TextEncoder().encode(`${rows.join('\n')}\n`),
    recipe: {
      encoding: /** @type {const} */ ('utf-8'),
      delimiter: /** @type {const} */ (','),
      decimal: /** @type {const} */ ('.'),
      headerLines: 1,
      time: { style: /** @type {const} */ ('elapsed'), columns: [0], unit: /** @type {const} */ ('s') },
      channels: probes.map((probe, i) => ({
        column: i + 1,
        header: probe,
        probe,
        unit: /** @type {const} */ ('C'),
      })),
      missing: [],
    },
  };
}
