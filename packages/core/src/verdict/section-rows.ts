import { formatThickness, type SectionLayer, type SectionRow } from '../drawing/index.js';
import type { Build, Pack, Zone } from '../records/index.js';
import { shields } from './section-parts.js';

const numberWords = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

/**
 * The layers from the front shell to the back shell with their thicknesses and where they lie. Their sum is the device's
 * thickness; a set-up that is too thick says so in place of the swelling reserve.
 */
export function nameRows(
  device: NonNullable<Build['device']>,
  zones: readonly Zone[],
  layers: readonly SectionLayer[],
  pack: Pack,
  zoneRoom_mm: number,
  pack_mm: number,
  reserve_mm: number,
): SectionRow[] {
  const hasShield = layers.some((layer) => shields.includes(layer.material));
  const isSubject = (layer: SectionLayer) =>
    hasShield ? shields.includes(layer.material) || layer.strips !== null : layer.material !== 'tape';
  const count = pack.series * pack.parallel;
  const stack: [name: string, thickness_mm: number, isSubject?: boolean][] = [
    ['front shell', device.frontShell_mm],
    ['keys, display, air', device.frontGap_mm],
    ['board', device.board.thickness_mm],
    [zones.length > 0 ? 'zones, air' : 'air', zoneRoom_mm],
    ...layers.map((layer): [string, number, boolean] => [
      layer.strips ? `${layer.name}, air` : layer.name,
      layer.thickness_mm,
      isSubject(layer),
    ]),
    [count === 1 ? 'pack, one cell' : `pack, ${numberWords[count] ?? count} cells`, pack_mm],
  ];
  let depth = 0;
  const rows = stack.map(([name, thickness_mm, isBold]): SectionRow => {
    depth += thickness_mm;
    return { name, thickness_mm, middle_mm: depth - thickness_mm / 2, isSubject: isBold ?? false };
  });
  // A pack that is too thick ends inside the back shell: there the reserve is negative and reaches back.
  const shell = depth + reserve_mm;
  rows.push({
    name: reserve_mm >= 0 ? 'swelling reserve' : 'too thick by',
    thickness_mm: Math.abs(reserve_mm),
    middle_mm: depth + reserve_mm / 2,
    isSubject: reserve_mm < 0,
  });
  rows.push({
    name: 'back shell',
    thickness_mm: device.backShell_mm,
    middle_mm: shell + device.backShell_mm / 2,
    isSubject: false,
  });
  return rows.filter(({ thickness_mm, name }) => thickness_mm > 0 || name === 'swelling reserve');
}

/** The same as a sentence, from the board to the back shell. */
export function describeLayers(rows: readonly SectionRow[]): string {
  const from = rows.findIndex((row) => row.name === 'board') + 1;
  const inside = rows.slice(from, -1).map((row) => `${row.name} ${formatThickness(row.thickness_mm)}`);
  return `From the board to the back shell, in mm: ${inside.join(', ')}.`;
}
