import { stripStarts } from '../../drawing/index.js';
import type { Build, Device, Layer, Outline, Pack, Setup, Zone } from '../../records/index.js';
import { checkGeometry, type DeviceRecords } from './check-geometry.js';
import type { Contact, LaidParts, Part, Span } from './part.js';
import {
  airProperties,
  bodyProperties,
  componentProperties,
  type Properties,
  propertiesOfLayer,
  seamProperties,
} from './part-properties.js';
import { bay, frontGap, reserve, seat } from './unknown.js';

/** Between cells of one pack there is a seam of tape and edge folds, mm; a twentieth of a short cell at most. @assumed */
const joint_mm = 1;

/** Shells of hand-held devices are mostly this. @assumed common practice, no source */
const usualShell = 'abs';

/**
 * Resistance between parts that are only laid on one another and pressed by a closed shell.
 *
 * @assumed common practice, no source: 1e-4 to 1e-3 for unglued metal on plastic
 */
const contact_m2K_per_W = 5e-4;

/**
 * Lays a set-up in its device: every part as a box, in the places where the section draws them.
 *
 * The tallest zone under the pack carries the set-up, and the room that is left lies behind the pack; with
 * `packRestsOn: 'back-shell'` the room lies between the zones and the set-up. Either is what the model computes, and the bench decides.
 *
 * @throws BadInputError naming each record that is missing or cannot be, before anything is computed
 */
export function layParts(build: Build, setup: Setup): LaidParts {
  const records = checkGeometry(build, setup);
  const { device, pack, outline, room_mm, zoneRoom_mm } = records;
  const notes: string[] = [];
  const depths = findDepths(records, setup);
  const wall_mm = Math.min(device.frontShell_mm, device.backShell_mm, device.length_mm / 4);
  const inside = {
    x: [wall_mm, device.length_mm - wall_mm] as Span,
    y: [wall_mm, device.width_mm - wall_mm] as Span,
  };
  const total_mm = depths.backShell + device.backShell_mm;
  const shell = bodyProperties(device.shellMaterial ?? usualShell, 'device.shellMaterial', false);
  if (device.shellMaterial === undefined)
    notes.push('What the shells are made of is not noted; ABS is taken.');
  const parts: Part[] = [
    makePart('shell', 'shell', [0, device.length_mm], [0, device.width_mm], [0, total_mm], shell),
    makePart(
      'air',
      'front gap',
      inside.x,
      inside.y,
      [device.frontShell_mm, depths.board],
      airProperties(frontGap),
    ),
    makePart('air', 'bay', inside.x, inside.y, [depths.board, depths.packBack], airProperties(bay)),
    makePart(
      'air',
      'behind the pack',
      inside.x,
      inside.y,
      [depths.packBack, depths.backShell],
      airProperties(reserve),
    ),
    layBoard(device, depths),
    ...build.zones.map((zone) => layZone(zone, depths.boardBack)),
  ];
  let depth_mm = depths.layers;
  setup.layers.forEach((layer, index) => {
    parts.push(
      ...layLayer(layer, layer.outline ?? outline, depth_mm, `setups.${setup.id}.layers[${index}]`, inside),
    );
    depth_mm += layer.thickness_mm;
  });
  const cells = findCells(pack, outline);
  parts.push(...layPack(cells, outline, depths, notes));
  return {
    length_mm: device.length_mm,
    width_mm: device.width_mm,
    thickness_mm: total_mm,
    parts,
    contacts: findContacts(build.zones, outline, depths, { room_mm, zoneRoom_mm }, device),
    depths,
    cells,
    notes,
  };
}

function findDepths({ device, thickness_mm, zoneRoom_mm, room_mm }: DeviceRecords, setup: Setup) {
  const board = device.frontShell_mm + device.frontGap_mm;
  const boardBack = board + device.board.thickness_mm;
  const front_mm = device.packRestsOn === 'back-shell' ? room_mm : 0;
  const layers = boardBack + zoneRoom_mm + front_mm;
  const pack = layers + setup.layers.reduce((sum, layer) => sum + layer.thickness_mm, 0);
  return {
    board,
    boardBack,
    layers,
    pack,
    packBack: pack + thickness_mm,
    backShell: boardBack + device.bay_mm,
  };
}

function makePart(
  role: Part['role'],
  name: string,
  x: Span,
  y: Span,
  z: Span,
  properties: Properties,
  heat: string | null = null,
): Part {
  return { role, name, x, y, z, ...properties, heat };
}

function spansOf(outline: Outline): { x: Span; y: Span } {
  return {
    x: [outline.x_mm, outline.x_mm + outline.length_mm],
    y: [outline.y_mm, outline.y_mm + outline.width_mm],
  };
}

function layBoard({ board }: Device, depths: LaidParts['depths']): Part {
  const { x, y } = spansOf(board);
  const z: Span = [depths.board, depths.boardBack];
  return makePart('board', 'board', x, y, z, boardProperties(), 'board');
}

function boardProperties(): Properties {
  return bodyProperties('board', 'device.board', true);
}

/** A zone without height gives its heat to the skin of the board beneath it. */
function layZone(zone: Zone, boardBack_mm: number): Part {
  const { x, y } = spansOf(zone);
  return zone.height_mm < thinnestZone_mm
    ? makePart(
        'board',
        zone.name,
        x,
        y,
        [boardBack_mm - thinnestZone_mm, boardBack_mm],
        boardProperties(),
        zone.id,
      )
    : makePart(
        'zone',
        zone.name,
        x,
        y,
        [boardBack_mm, boardBack_mm + zone.height_mm],
        componentProperties,
        zone.id,
      );
}

/** Depth that a heat source needs to be seen by a grid, mm. */
const thinnestZone_mm = 0.2;

function layLayer(
  layer: Layer,
  outline: Outline,
  from_mm: number,
  where: string,
  inside: { x: Span; y: Span },
): Part[] {
  const { x, y } = spansOf(outline);
  const isAir = layer.material === 'air';
  const properties = isAir ? airProperties(bay) : propertiesOfLayer(layer, where);
  const role = isAir ? 'air' : 'layer';
  const z: Span = [from_mm, from_mm + layer.thickness_mm];
  const clip = (span: Span, limits: Span): Span => [
    Math.max(span[0], limits[0]),
    Math.min(span[1], limits[1]),
  ];
  const { strips } = layer;
  const spans =
    strips === undefined
      ? [x]
      : stripStarts(x[0], x[1] - x[0], strips).map((from): Span => [from, from + strips.width_mm]);
  return spans.map((along) =>
    makePart(role, layer.name, clip(along, inside.x), clip(y, inside.y), z, properties),
  );
}

/** Where each cell in series lies along the device, with a seam between. */
function findCells(pack: Pack, outline: Outline): Span[] {
  const pitch_mm = outline.length_mm / pack.series;
  const half_mm = pack.series > 1 ? Math.min(joint_mm, pitch_mm / 20) / 2 : 0;
  return Array.from(
    { length: pack.series },
    (_, index): Span => [
      outline.x_mm + index * pitch_mm + (index > 0 ? half_mm : 0),
      outline.x_mm + (index + 1) * pitch_mm - (index < pack.series - 1 ? half_mm : 0),
    ],
  );
}

function layPack(
  cells: readonly Span[],
  outline: Outline,
  depths: LaidParts['depths'],
  notes: string[],
): Part[] {
  const { x, y } = spansOf(outline);
  const z: Span = [depths.pack, depths.packBack];
  if (cells.length > 1)
    notes.push(
      'Cells in series are taken to lie one after the other along the device, as the section draws them.',
    );
  const cell = bodyProperties('pouch-cell', 'newPack', true);
  return [
    ...(cells.length > 1 ? [makePart('joint', 'seam between cells', x, y, z, seamProperties)] : []),
    ...cells.map((span, index) =>
      makePart(
        'cell',
        cells.length > 1 ? `cell ${index + 1}` : 'pack',
        span,
        y,
        z,
        cell,
        `cell-${index + 1}`,
      ),
    ),
  ];
}

/** Faces that touch without a bond: zone tops on the set-up, and the pack on the shell it rests on. */
function findContacts(
  zones: readonly Zone[],
  outline: Outline,
  depths: LaidParts['depths'],
  { room_mm, zoneRoom_mm }: { readonly room_mm: number; readonly zoneRoom_mm: number },
  device: Device,
): Contact[] {
  const contacts: Contact[] = [];
  const front_mm = device.packRestsOn === 'back-shell' ? room_mm : 0;
  const touches = (gap_mm: number) => gap_mm < touching_mm;
  for (const zone of zones) {
    if (!touches(front_mm + zoneRoom_mm - zone.height_mm)) continue;
    contacts.push({
      name: `${zone.name} on the set-up`,
      ...spansOf(zone),
      z_mm: depths.boardBack + zone.height_mm,
      resistance_m2K_per_W: contact_m2K_per_W,
      scaledBy: seat,
    });
  }
  if (touches(depths.backShell - depths.packBack)) {
    contacts.push({
      name: 'pack on the back shell',
      ...spansOf(outline),
      z_mm: depths.packBack,
      resistance_m2K_per_W: contact_m2K_per_W,
      scaledBy: reserve,
    });
  }
  return contacts;
}

/** Less of a gap than this is a contact, mm: below what shells, boards and packs are flat to. @assumed */
const touching_mm = 0.05;
