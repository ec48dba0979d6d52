import type { Build, Pack } from '@soakbench/core/records';

/** "22 → 38 Wh, two-cell pouch": what the refit changes, as far as it is entered; empty where nothing is. */
export function describeRefit(build: Build): string {
  const before = energyWords(build.originalPack);
  const after = energyWords(build.newPack);
  const energy = before && after ? `${before} → ${after} Wh` : after ? `to ${after} Wh` : '';
  // A name such as “two-cell pouch, 38 Wh” says the energy again after its first words.
  const name = build.newPack?.name.split(/[,(]/)[0]?.trim() ?? '';
  return [energy, name].filter((part) => part !== '').join(', ');
}

/** Energy as on the label, else charge times voltage; no digits that a label does not have. */
export function energyWords(pack: Pack | undefined): string {
  const energy_Wh = packEnergy_Wh(pack);
  return energy_Wh === undefined ? '' : String(Number(energy_Wh.toPrecision(3)));
}

function packEnergy_Wh(pack: Pack | undefined): number | undefined {
  if (pack?.energy_Wh !== undefined) return pack.energy_Wh;
  if (pack?.capacity_mAh === undefined || pack.nominal_V === undefined) return undefined;
  return (pack.capacity_mAh / 1000) * pack.nominal_V;
}
