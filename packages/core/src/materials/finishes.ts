import type { Face } from './material.js';
import { property } from './property.js';

/** Paint of any colour, and lacquer: the colour we see says nothing about the heat. */
export const painted: Face = {
  finish: 'painted',
  emissivity: property(0.94, [0.9, 0.97], '[EMISSIVITY-TABLES]', 'second hand'),
};

/** Plastics, adhesives and what is covered by them. */
export const plasticFace: Face = {
  finish: 'bare',
  emissivity: property(0.9, [0.85, 0.96], '[EMISSIVITY-TABLES]', 'second hand'),
};
