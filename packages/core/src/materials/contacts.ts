import { type Property, property } from './property.js';

/** How two layers meet where neither air of known thickness nor a layer of its own lies between them. */
export interface Contact {
  readonly id: string;
  readonly name: string;
  readonly resistance_m2K_per_W: Property;
  readonly caution?: string;
}

/** Dry contact depends on pressure, flatness and dust; a factor of ten between two mountings is nothing unusual. */
export const contacts: readonly Contact[] = [
  {
    id: 'glued',
    name: 'thin epoxy joint, 0.02 mm',
    resistance_m2K_per_W: property(0.9e-4, [0.5e-4, 2e-4], '[INCROPERA]', 'second hand'),
    caution: 'Only the printed 0.9e-4 was seen; the range around it is our assumption.',
  },
  {
    id: 'metal-on-plastic',
    name: 'metal lying on plastic, neither glued nor pressed',
    resistance_m2K_per_W: property(3e-4, [1e-4, 1e-3], 'common practice, no source', 'assumed'),
    caution: 'Equals 3 to 27 µm of air; where the sheet bulges, it is an air gap and no contact.',
  },
  {
    id: 'pad',
    name: 'soft pad or tape pressed on',
    resistance_m2K_per_W: property(0.5e-4, [0.1e-4, 2e-4], 'common practice, no source', 'assumed'),
  },
];

export function findContact(id: string): Contact | undefined {
  return contacts.find((contact) => contact.id === id);
}
