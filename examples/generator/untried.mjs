import { film, packOutline, plate, plateOutline, strips, tape } from './device.mjs';

/**
 * Set-ups of which the demo has no run, so that a prediction can be held against a truth it was not calibrated on.
 *
 * @typedef {import('./layers.mjs').Layer} Layer
 */

/** @type {Layer} */
const graphite = { material: 'graphite', name: 'graphite sheet', thickness_mm: 0.1, outline: plateOutline };
/** @type {Layer} */
const foam = { material: 'foam', name: 'foam', thickness_mm: 1, outline: packOutline };

/** @type {readonly { id: string, name: string, layers: readonly Layer[] }[]} */
export const untriedSetups = [
  { id: 'graphite', name: 'graphite sheet', layers: [film, graphite, tape] },
  { id: 'thin-plate', name: 'plate of 0.3 mm', layers: [film, { ...plate, thickness_mm: 0.3 }, tape] },
  {
    id: 'high-strips',
    name: 'plate on strips of 1 mm',
    layers: [film, plate, { ...strips, thickness_mm: 1 }, tape],
  },
  { id: 'foam', name: 'foam', layers: [foam] },
];
