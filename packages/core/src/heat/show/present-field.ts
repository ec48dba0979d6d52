import {
  type FieldMark,
  type FieldOutline,
  type FieldView,
  probeTag,
  type TemperatureAnchors,
} from '../../drawing/index.js';
import { formatNumber } from '../../measure/index.js';
import type { Build, Probe } from '../../records/index.js';
import type { PlaceRise } from '../device/find-places.js';
import type { FieldSlice, PlaneName } from './slice-field.js';
import type { ShownPart, ShownSetup } from './try-setup.js';

/** What a plane is called on a page and on paper. */
export const planeWords: Readonly<Record<PlaneName, string>> = {
  pack: 'the hot face of the pack',
  shield: 'the shield',
  board: 'the pack side of the board',
  'front-shell': 'the outside of the front shell',
  'back-shell': 'the outside of the back shell',
};

/** Which probes sit on a plane: only those are marked on it. */
const probesOn: Readonly<Record<PlaneName, Probe['place'] | null>> = {
  pack: 'cell',
  shield: 'cell',
  board: 'zone',
  'front-shell': null,
  'back-shell': 'shell',
};

/** The field from above, at the plane that was asked for. */
export function presentFieldPlan(build: Build, shown: ShownSetup, anchors: TemperatureAnchors): FieldView {
  const { plan, plane, ambient_C } = shown;
  const place = probesOn[plane];
  return {
    kind: 'plan',
    label: `Predicted temperature at ${planeWords[plane]}, from above: ${rangeWords(plan, ambient_C)}.`,
    x_mm: plan.x_mm,
    y_mm: plan.y_mm,
    level_C: levelsOf(plan, ambient_C),
    anchors,
    outlines: outlinesFromAbove(build, shown),
    marks: shown.places.flatMap((each) => {
      const probe = probeOf(build, each);
      return probe === undefined || probe.place !== place || each.at === null
        ? []
        : [{ tag: probeTag(probe), ...each.at, level_C: ambient_C + each.rise_K }];
    }),
    cut_mm: shown.section.at_mm,
  };
}

/** The field cut through at its hottest zone, front on top. */
export function presentFieldSection(build: Build, shown: ShownSetup, anchors: TemperatureAnchors): FieldView {
  const { section, ambient_C } = shown;
  return {
    kind: 'section',
    label: `Predicted temperature in the section through the hottest zone: ${rangeWords(section, ambient_C)}.`,
    x_mm: section.x_mm,
    y_mm: section.y_mm,
    level_C: levelsOf(section, ambient_C),
    anchors,
    outlines: outlinesInSection(shown.parts, section.at_mm),
    marks: shown.places.flatMap((each) => markInSection(build, shown, each)),
    cut_mm: null,
  };
}

function levelsOf({ rise_K }: FieldSlice, ambient_C: number): Float32Array {
  return rise_K.map((rise) => rise + ambient_C);
}

function rangeWords({ rise_K }: FieldSlice, ambient_C: number): string {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const rise of rise_K) {
    low = Math.min(low, rise);
    high = Math.max(high, rise);
  }
  return `${formatNumber(ambient_C + low, 1)} to ${formatNumber(ambient_C + high, 1)} °C`;
}

function probeOf(build: Build, { probe }: PlaceRise): Probe | undefined {
  return probe === null ? undefined : build.probes.find(({ id }) => id === probe);
}

function outlinesFromAbove({ device, newPack, zones }: Build, { parts }: ShownSetup): FieldOutline[] {
  const outlines: FieldOutline[] = [];
  const box = (
    look: FieldOutline['look'],
    of: { x_mm: number; y_mm: number; length_mm: number; width_mm: number },
  ) =>
    outlines.push({
      look,
      x: [of.x_mm, of.x_mm + of.length_mm],
      y: [of.y_mm, of.y_mm + of.width_mm],
    });
  if (newPack?.outline !== undefined) box('pack', newPack.outline);
  for (const zone of zones) box('zone', zone);
  for (const part of parts) {
    if (part.role !== 'layer') continue;
    if (part.spreads) outlines.push({ look: 'plate', x: part.x, y: part.y });
    else if (isStrip(part, parts)) outlines.push({ look: 'strip', x: part.x, y: part.y });
  }
  if (device !== undefined)
    box('device', { x_mm: 0, y_mm: 0, length_mm: device.length_mm, width_mm: device.width_mm });
  return outlines;
}

/** One of several boxes of one layer: strips are laid one by one. */
function isStrip(part: ShownPart, parts: readonly ShownPart[]): boolean {
  return parts.some(
    (other) =>
      other !== part && other.role === 'layer' && other.name === part.name && other.z[0] === part.z[0],
  );
}

/** Boxes that the plane cuts; what lies beside it is not seen. Each name stands once. */
function outlinesInSection(parts: readonly ShownPart[], across_mm: number): FieldOutline[] {
  const named = new Set<string>();
  const nameOnce = (name: string) => {
    if (named.has(name)) return {};
    named.add(name);
    return { name };
  };
  return parts.flatMap((part): FieldOutline[] => {
    const { role, x, y, z } = part;
    if (role === 'joint' || across_mm < y[0] || across_mm > y[1]) return [];
    const spans = { x, y: z };
    switch (role) {
      case 'shell':
        return [{ look: 'device', ...spans }];
      case 'cell':
        return [{ look: 'pack', ...spans, ...nameOnce('pack') }];
      case 'zone':
        return [{ look: 'part', ...spans, ...nameOnce(part.name) }];
      case 'board':
        return [{ look: 'part', ...spans, ...nameOnce('board') }];
      case 'layer':
        return [{ look: part.spreads ? 'plate' : 'part', ...spans, ...nameOnce(part.name) }];
      default:
        // A layer of air is part of the set-up; the air around is what is left between outlines.
        return part.name === 'front gap' || part.name === 'bay' || part.name === 'behind the pack'
          ? [{ look: 'part', ...spans }]
          : [{ look: 'part', ...spans, ...nameOnce(part.name) }];
    }
  });
}

function markInSection(build: Build, shown: ShownSetup, place: PlaceRise): FieldMark[] {
  const probe = probeOf(build, place);
  if (probe === undefined || place.at === null) return [];
  const zone = build.zones.find(({ id }) => id === probe.zone);
  const depth_mm =
    probe.place === 'cell'
      ? shown.depths.pack
      : probe.place === 'shell'
        ? (shown.section.y_mm.at(-1) as number)
        : shown.depths.boardBack + (zone?.height_mm ?? 0);
  return [
    {
      tag: probeTag(probe),
      x_mm: place.at.x_mm,
      y_mm: depth_mm,
      level_C: shown.ambient_C + place.rise_K,
    },
  ];
}
