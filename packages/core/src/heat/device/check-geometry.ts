import { BadInputError, type Fault, formatNumber } from '../../measure/index.js';
import type { Build, Device, Outline, Pack, Setup } from '../../records/index.js';

/** The records a heat model cannot do without, and what they leave of the bay. */
export interface DeviceRecords {
  readonly device: Device;
  readonly pack: Pack;
  readonly outline: Outline;
  readonly thickness_mm: number;
  /** As high as the tallest zone under the pack: nothing of the set-up lies lower. */
  readonly zoneRoom_mm: number;
  /** What zones, layers and pack leave of the bay. */
  readonly room_mm: number;
}

/** Sums of typed thicknesses differ from the bay by their last digit. */
const rounding_mm = 1e-6;

/**
 * What a heat model needs of the records, or what is wrong with them.
 *
 * @throws BadInputError with every fault: records that are missing, parts that overlap or stick out, a set-up too thick for the bay
 */
export function checkGeometry(build: Build, setup: Setup): DeviceRecords {
  const { device, newPack: pack } = build;
  const faults: Fault[] = [];
  const lack = (where: string, what: string, remedy: string) => faults.push({ where, what, remedy });
  if (device === undefined)
    lack('device', 'The device is not entered.', 'Enter its length, width and thicknesses.');
  if (pack?.outline === undefined || pack.thickness_mm === undefined)
    lack(
      'newPack',
      'The new pack’s outline or thickness is not entered.',
      'Measure the pack and enter them.',
    );
  if (build.zones.length === 0)
    lack('zones', 'No zone is entered, so no heat has a place.', 'Enter what gets warm on the board.');
  if (
    device === undefined ||
    pack?.outline === undefined ||
    pack.thickness_mm === undefined ||
    faults.length > 0
  )
    throw new BadInputError(faults);
  const { outline, thickness_mm } = pack;
  faults.push(...checkPlan(build, device, outline, setup));
  const zoneRoom_mm = Math.max(
    0,
    ...build.zones.filter((zone) => shares(zone, outline)).map((zone) => zone.height_mm),
  );
  const layers_mm = setup.layers.reduce((sum, layer) => sum + layer.thickness_mm, 0);
  const room_mm = device.bay_mm - zoneRoom_mm - layers_mm - thickness_mm;
  if (room_mm < -rounding_mm) {
    lack(
      `setups.${setup.id}`,
      `Zones, layers and pack are ${formatNumber(-room_mm, 2)} mm too thick for the bay of ${device.bay_mm} mm.`,
      'Choose thinner layers, or measure the bay again.',
    );
  }
  for (const zone of build.zones) {
    if (zone.height_mm > device.bay_mm)
      lack(`zones.${zone.id}`, 'It is taller than the bay.', 'Check its height and the bay.');
  }
  if (faults.length > 0) throw new BadInputError(faults);
  return { device, pack, outline, thickness_mm, zoneRoom_mm, room_mm: Math.max(0, room_mm) };
}

/** As `checkGeometry`, but gives the faults back: none where the records carry a model, or where some are still to be entered. */
export function findGeometryFaults(build: Build, setup: Setup): readonly Fault[] {
  const { device, newPack: pack } = build;
  if (device === undefined || pack?.outline === undefined || pack.thickness_mm === undefined) return [];
  if (build.zones.length === 0) return [];
  try {
    checkGeometry(build, setup);
    return [];
  } catch (error) {
    if (error instanceof BadInputError) return error.faults;
    throw error;
  }
}

function checkPlan(build: Build, device: Device, outline: Outline, setup: Setup): Fault[] {
  const faults: Fault[] = [];
  const whole: Outline = { x_mm: 0, y_mm: 0, length_mm: device.length_mm, width_mm: device.width_mm };
  const within = (where: string, part: Outline, room: Outline, words: string) => {
    if (contains(room, part)) return;
    faults.push({ where, what: `It reaches outside ${words}.`, remedy: 'Check its place and size.' });
  };
  within('device.board', device.board, whole, 'the device');
  within('newPack.outline', outline, whole, 'the device');
  for (const zone of build.zones) within(`zones.${zone.id}`, zone, device.board, 'the board');
  build.zones.forEach((zone, index) => {
    for (const other of build.zones.slice(index + 1)) {
      if (!shares(zone, other)) continue;
      faults.push({
        where: `zones.${zone.id}`,
        what: `It overlaps the zone ${other.name}.`,
        remedy: 'Two parts cannot stand in one place: mend one outline.',
      });
    }
  });
  setup.layers.forEach((layer, index) => {
    const where = `setups.${setup.id}.layers[${index}]`;
    if (layer.outline !== undefined) within(where, layer.outline, whole, 'the device');
    const { strips } = layer;
    const along_mm = (layer.outline ?? outline).length_mm;
    if (strips !== undefined && strips.count * strips.width_mm > along_mm + rounding_mm) {
      faults.push({
        where,
        what: `${strips.count} strips of ${strips.width_mm} mm overlap on ${along_mm} mm.`,
        remedy: 'Choose fewer or narrower strips.',
      });
    }
  });
  return faults;
}

function contains(room: Outline, part: Outline): boolean {
  return (
    part.x_mm >= room.x_mm - rounding_mm &&
    part.y_mm >= room.y_mm - rounding_mm &&
    part.x_mm + part.length_mm <= room.x_mm + room.length_mm + rounding_mm &&
    part.y_mm + part.width_mm <= room.y_mm + room.width_mm + rounding_mm
  );
}

/** Whether two outlines share an area; touching edges do not. */
function shares(one: Outline, other: Outline): boolean {
  return (
    one.x_mm < other.x_mm + other.length_mm - rounding_mm &&
    other.x_mm < one.x_mm + one.length_mm - rounding_mm &&
    one.y_mm < other.y_mm + other.width_mm - rounding_mm &&
    other.y_mm < one.y_mm + one.width_mm - rounding_mm
  );
}
