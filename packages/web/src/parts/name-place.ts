import type { Fault } from '@soakbench/core/measure';
import type { Build, Setup } from '@soakbench/core/records';

type Records = Pick<Build, 'zones'> & { readonly setups: readonly Pick<Setup, 'id' | 'name' | 'layers'>[] };

/** The fields of a record that hold a part of their own, as a person calls them. */
const parts: Readonly<Record<string, string>> = {
  device: 'Device',
  'device.board': 'Board of the device',
  newPack: 'New pack',
  'newPack.outline': 'Outline of the new pack',
  zones: 'Zones',
};

/** A place in the records in a person's words: "Zone power converter", "Set-up plate, layer 1, polyimide film". Null where it is none. */
export function namePlace({ zones, setups }: Records, where: string): string | null {
  const plain = parts[where];
  if (plain !== undefined) return plain;
  const [, kind, id, layer] = /^(zones|setups)\.([^.[\]]+)(?:\.layers\[(\d+)\].*)?$/.exec(where) ?? [];
  if (kind === 'zones') {
    const zone = zones.find((each) => each.id === id);
    return zone === undefined ? null : `Zone ${zone.name}`;
  }
  const setup = setups.find((each) => each.id === id);
  if (setup === undefined) return null;
  if (layer === undefined) return `Set-up ${setup.name}`;
  const name = setup.layers[Number(layer)]?.name;
  return `Set-up ${setup.name}, layer ${Number(layer) + 1}${name === undefined ? '' : `, ${name}`}`;
}

/** Faults with their places named as `namePlace` does; a place that is none in the records stays as it is. */
export function nameFaults(records: Records, faults: readonly Fault[]): Fault[] {
  return faults.map((fault) => {
    const place = namePlace(records, fault.where);
    return place === null ? fault : { ...fault, where: `${place}:` };
  });
}
