/**
 * What the invented device is truly made of, one row for each property. The values lie off the round figures of the handbooks on
 * purpose, as those of a real device would: whoever calibrates a model on the logs has something to find.
 *
 * `spread` is the relative standard deviation with which another device of the kind is drawn (`drawProperties`). All values are
 * invented unless a reason says otherwise; ranges are common practice, no source.
 *
 * @typedef {{ value: number, spread: number, why: string }} Property
 * @typedef {Record<keyof typeof trueProperties, number>} Properties
 */

export const trueProperties = /** @type {const} */ ({
  front_W_per_m2K: {
    value: 11.7,
    spread: 0.1,
    why: 'film of the front face: natural convection 5.6 and radiation 6.0, upright in its stand',
  },
  back_W_per_m2K: {
    value: 10.8,
    spread: 0.1,
    why: 'film of the back face, which the stand shades a little',
  },
  side_W_per_m2K: { value: 12.2, spread: 0.1, why: 'film of the narrow side walls' },
  shell_W_per_mK: { value: 0.21, spread: 0.06, why: 'polycarbonate, 0.19 to 0.22' },
  board_W_per_mK: {
    value: 23.4,
    spread: 0.2,
    why: 'populated board along its plane: what its copper makes of it, 3 to 40',
  },
  boardThrough_W_per_mK: { value: 0.36, spread: 0.1, why: 'glass and resin with vias, 0.29 to 0.4' },
  frontSolid: {
    value: 0.43,
    spread: 0.25,
    why: 'share of the gap in front of the board that keys and posts fill',
  },
  keys_W_per_mK: { value: 0.26, spread: 0.1, why: 'silicone of the keys and plastic of the posts' },
  zoneBond_m2K_per_W: {
    value: 6.2e-4,
    spread: 0.2,
    why: 'package and solder between a zone’s top and the board',
  },
  touch_mm: {
    value: 0.073,
    spread: 0.2,
    why: 'mean film of air where the tallest zone rests on the pack or its layers, neither of them flat',
  },
  cell_W_per_mK: { value: 28.3, spread: 0.1, why: 'pouch cell along its foils, 20 to 35' },
  cellThrough_W_per_mK: { value: 0.72, spread: 0.15, why: 'pouch cell across its foils, 0.3 to 1' },
  cellGap_W_per_mK: {
    value: 0.154,
    spread: 0.15,
    why: 'between the cells: tape that holds them together, and a little air',
  },
  cellGap_mm: { value: 1, spread: 0.1, why: 'width of that gap' },
  aluminium_W_per_mK: { value: 219, spread: 0.03, why: 'sheet of 99.5 %, 209 to 230' },
  copper_W_per_mK: { value: 391, spread: 0.02, why: 'sheet, 385 to 401' },
  graphite_W_per_mK: { value: 740, spread: 0.1, why: 'sheet of 0.1 mm along its plane, 600 to 800' },
  graphiteThrough_W_per_mK: { value: 13.5, spread: 0.15, why: 'the same across it, 10 to 20' },
  polyimide_W_per_mK: { value: 0.128, spread: 0.1, why: 'film, 0.10 to 0.16 across it' },
  tape_W_per_mK: { value: 0.176, spread: 0.06, why: 'acrylic transfer tape, 0.16 to 0.20' },
  paper_W_per_mK: { value: 0.098, spread: 0.15, why: 'pressboard, 0.07 to 0.15' },
  foam_W_per_mK: { value: 0.043, spread: 0.1, why: 'soft foam, 0.026 to 0.06' },
  air_W_per_mK: { value: 0.027, spread: 0, why: 'air at 40 °C, 0.0266 to 0.0273' },
  frontGap_mm: { value: 2.33, spread: 0.05, why: 'true gap in front of the board; drawn 2.4 mm' },
  backUneven_mm: {
    value: 0.27,
    spread: 0.4,
    why: 'the pack’s back is not flat: it lies this much farther from the back shell than the drawn reserve',
  },
  converterShare: {
    value: 0.6,
    spread: 0.06,
    why: 'of the heat that the processor does not make; the rest is the preamplifiers’ (recorded: 1.2 W of 1.9 W)',
  },
  processorFactor: {
    value: 1,
    spread: 0.05,
    why: 'the processor’s heat against what its name plate says; the sum is metered',
  },
});

/** @param {(property: Property) => number} pick @returns {Properties} */
function mapProperties(pick) {
  return /** @type {Properties} */ (
    Object.fromEntries(Object.entries(trueProperties).map(([name, property]) => [name, pick(property)]))
  );
}

/** The demo's own device. */
export const demoProperties = Object.freeze(mapProperties(({ value }) => value));

/**
 * Another device of the same kind: every property off by its own spread. (1 + z/2) / (1 - z/2) stands for e^z, of which it keeps that
 * it is never negative and that a half is as likely as a double.
 *
 * @param {import('./noise.mjs').Random} random
 */
export function drawProperties(random) {
  return Object.freeze(
    mapProperties(({ value, spread }) => {
      const half = Math.max(-0.9, Math.min(0.9, (spread * random.normal()) / 2));
      return (value * (1 + half)) / (1 - half);
    }),
  );
}
