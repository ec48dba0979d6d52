/**
 * Published closed forms of electrode potentials against lithium, volts. x is the share of lithium in the graphite, y that in the
 * positive electrode; a cell's open-circuit voltage is the positive minus the negative one.
 */

/** @source [MARQUIS-19] lithium cobalt oxide, an older pouch cell; with s = 1.062 y */
export function cobaltOxidePotential_V(y: number): number {
  const s = 1.062 * y;
  return (
    2.16216 +
    0.07645 * Math.tanh(30.834 - 54.4806 * s) +
    2.1581 * Math.tanh(52.294 - 50.294 * s) -
    0.14169 * Math.tanh(11.0923 - 19.8543 * s) +
    0.2051 * Math.tanh(1.4684 - 5.4888 * s) +
    0.2531 * Math.tanh((0.56478 - s) / 0.1316) -
    0.02167 * Math.tanh((s - 0.525) / 0.006)
  );
}

/** @source [MARQUIS-19] graphite of the same cell */
export function graphitePotential_V(x: number): number {
  return (
    0.194 +
    1.5 * Math.exp(-120 * x) +
    0.0351 * Math.tanh((x - 0.286) / 0.083) -
    0.0045 * Math.tanh((x - 0.849) / 0.119) -
    0.035 * Math.tanh((x - 0.9233) / 0.05) -
    0.0147 * Math.tanh((x - 0.5) / 0.034) -
    0.102 * Math.tanh((x - 0.194) / 0.142) -
    0.022 * Math.tanh((x - 0.9) / 0.0164) -
    0.011 * Math.tanh((x - 0.124) / 0.0226) +
    0.0155 * Math.tanh((x - 0.105) / 0.029)
  );
}

/** @source [CHEN-20] NMC811 */
export function nmc811Potential_V(y: number): number {
  return (
    -0.809 * y +
    4.4875 -
    0.0428 * Math.tanh(18.5138 * (y - 0.5542)) -
    17.7326 * Math.tanh(15.789 * (y - 0.3117)) +
    17.5842 * Math.tanh(15.9308 * (y - 0.312))
  );
}

/** @source [CHEN-20] graphite with silicon oxide */
export function siliconGraphitePotential_V(x: number): number {
  return (
    1.9793 * Math.exp(-39.3631 * x) +
    0.2482 -
    0.0909 * Math.tanh(29.8538 * (x - 0.1234)) -
    0.04478 * Math.tanh(14.9159 * (x - 0.2769)) -
    0.0205 * Math.tanh(30.4444 * (x - 0.6103))
  );
}

/** @source [AFSHAR-17] lithium iron phosphate */
export function ironPhosphatePotential_V(y: number): number {
  return 3.4077 - 0.020269 * y + 0.5 * Math.exp(-150 * y) - 0.9 * Math.exp(-30 * (1 - y));
}
