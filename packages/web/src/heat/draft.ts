/** A set-up somebody thinks of: pure changes to it, and what it is called. */
import { type PlaneName, type SetupWish, usualGrid } from '@soakbench/core/heat';
import { type Finish, findMaterial, materialOfLayer, materialsOf } from '@soakbench/core/materials';
import { formatList } from '@soakbench/core/measure';
import type { Build, Device, Layer, Outline, Setup } from '@soakbench/core/records';

type Surroundings = NonNullable<Device['surroundings']>;

export interface Draft {
  /** The set-up it started from. */
  readonly from: string;
  readonly layers: readonly Layer[];
  readonly surroundings: Surroundings;
  readonly ambient_C: number;
  /** W; null takes the usual load of the runs. */
  readonly load_W: number | null;
  readonly charging: boolean;
  readonly plane: PlaneName;
  readonly isFine: boolean;
}

/** The room of a build without a design ambient, °C. @assumed */
const usualRoom_C = 25;

export function startDraft(build: Build, from: string): Draft {
  const { posture = 'flat', front = 'air', back = 'air' } = build.device?.surroundings ?? {};
  return {
    from,
    layers: build.setups.find(({ id }) => id === from)?.layers ?? [],
    surroundings: { posture, front, back },
    ambient_C: build.designAmbient?.ambient_C ?? usualRoom_C,
    load_W: null,
    charging: false,
    plane: 'pack',
    isFine: false,
  };
}

/** The same set-up laid anew; room, use and view stay. */
export function restartDraft(build: Build, draft: Draft, from: string): Draft {
  return { ...draft, from, layers: startDraft(build, from).layers };
}

export function wishOf(build: Build, draft: Draft): SetupWish {
  const { layers, surroundings, ambient_C, load_W, charging, plane, isFine } = draft;
  return {
    setup: { id: draft.from, name: nameOfDraft(build, draft), layers: [...layers] },
    ...(isAsBuild(build, surroundings) ? {} : { surroundings }),
    ambient_C,
    use: { charging, load_W },
    plane,
    ...(isFine ? { grid: usualGrid } : {}),
  };
}

function isAsBuild(build: Build, { posture, front, back }: Surroundings): boolean {
  const own = startDraft(build, '').surroundings;
  return posture === own.posture && front === own.front && back === own.back;
}

/** Whether the faces meet something else than in the runs, for which nothing was measured. */
export function hasOtherFaces(build: Build, draft: Draft): boolean {
  return !isAsBuild(build, draft.surroundings);
}

export function isChanged(build: Build, { from, layers }: Draft): boolean {
  const setup = build.setups.find(({ id }) => id === from);
  return JSON.stringify(setup?.layers ?? []) !== JSON.stringify(layers);
}

export function changeLayer(draft: Draft, index: number, change: (layer: Layer) => Layer): Draft {
  return { ...draft, layers: draft.layers.map((layer, at) => (at === index ? change(layer) : layer)) };
}

export function removeLayer(draft: Draft, index: number): Draft {
  return { ...draft, layers: draft.layers.filter((_, at) => at !== index) };
}

export function moveLayer(draft: Draft, from: number, to: number): Draft {
  const layers = [...draft.layers];
  if (to < 0 || to >= layers.length) return draft;
  const [layer] = layers.splice(from, 1);
  if (layer !== undefined) layers.splice(to, 0, layer);
  return { ...draft, layers };
}

/** How thick a new layer starts, mm: what the trade sells most of. @assumed common practice, no source */
const startThickness_mm: Readonly<Record<Layer['material'], number>> = {
  polyimide: 0.06,
  aluminium: 0.5,
  copper: 0.2,
  graphite: 0.1,
  foam: 0.5,
  tape: 0.05,
  paper: 0.5,
  air: 0.3,
  other: 0.5,
};

const layerWords: Readonly<Record<Layer['material'], string>> = {
  polyimide: 'polyimide film',
  aluminium: 'aluminium plate',
  copper: 'copper sheet',
  graphite: 'graphite sheet',
  foam: 'foam',
  tape: 'tape',
  paper: 'paper',
  air: 'air gap',
  other: 'another material',
};

/** Next to the pack, where a shield mostly goes. `other` starts with its first grade, or nothing would be known of it. */
export function addLayer(draft: Draft, material: Layer['material']): Draft {
  const grade = material === 'other' ? materialsOf('other')[0]?.id : undefined;
  const layer: Layer = {
    material,
    name: grade === undefined ? layerWords[material] : (findMaterial(grade)?.name ?? layerWords[material]),
    thickness_mm: startThickness_mm[material],
    ...(grade === undefined ? {} : { grade }),
  };
  return { ...draft, layers: [...draft.layers, layer] };
}

/** Another material, under its own name, without what belonged to the old one. */
export function changeMaterial(layer: Layer, material: Layer['material']): Layer {
  const {
    grade: _,
    finish: __,
    k_W_per_mK: ___,
    kInPlane_W_per_mK: ____,
    kSlope_per_K: _____,
    ...rest
  } = layer;
  const grade = material === 'other' ? materialsOf('other')[0]?.id : undefined;
  return {
    ...rest,
    material,
    name: grade === undefined ? layerWords[material] : (findMaterial(grade)?.name ?? rest.name),
    ...(grade === undefined ? {} : { grade }),
  };
}

export function changeGrade(layer: Layer, grade: string | undefined): Layer {
  const { grade: _, ...rest } = layer;
  return grade === undefined ? rest : { ...rest, grade };
}

export function changeFinish(layer: Layer, finish: Finish | undefined): Layer {
  const { finish: _, ...rest } = layer;
  return finish === undefined ? rest : { ...rest, finish };
}

/** Grades that come under the layer's word; none where there is only the usual one. */
export function gradesOf({ material }: Layer): readonly (readonly [string, string])[] {
  const grades = materialsOf(material).map(({ id, name }) => [id, name] as const);
  return grades.length > 1 ? grades : [];
}

/** Faces the layer's material can have, where it makes a difference. */
export function finishesOf(layer: Layer): readonly (readonly [Finish, string])[] {
  const material = materialOfLayer(layer);
  if (!material.ok || material.value.faces.length < 2) return [];
  return material.value.faces.map(
    ({ finish, emissivity }) => [finish, `${finish}, ε ${emissivity.value}`] as const,
  );
}

export function changeStrips(layer: Layer, strips: Layer['strips']): Layer {
  const { strips: _, ...rest } = layer;
  return strips === undefined ? rest : { ...rest, strips };
}

/** How far a layer stays inside the pack's edge, the same on all four sides; null where its outline is another one. */
export function insetOf(layer: Layer, pack: Outline): number | null {
  const { outline } = layer;
  if (outline === undefined) return 0;
  const insets = [
    outline.x_mm - pack.x_mm,
    outline.y_mm - pack.y_mm,
    pack.x_mm + pack.length_mm - outline.x_mm - outline.length_mm,
    pack.y_mm + pack.width_mm - outline.y_mm - outline.width_mm,
  ].map((inset) => Number(inset.toFixed(6)));
  return insets.every((inset) => inset === insets[0]) ? (insets[0] ?? null) : null;
}

export function withInset(layer: Layer, pack: Outline, inset_mm: number): Layer {
  const { outline: _, ...rest } = layer;
  if (inset_mm === 0) return rest;
  return {
    ...rest,
    outline: {
      x_mm: tidy(pack.x_mm + inset_mm),
      y_mm: tidy(pack.y_mm + inset_mm),
      length_mm: tidy(pack.length_mm - 2 * inset_mm),
      width_mm: tidy(pack.width_mm - 2 * inset_mm),
    },
  };
}

/** Removes the dust of binary sums. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}

/** What a draft is called: what it came from, and what is different about it. */
export function nameOfDraft(build: Build, { from, layers }: Draft): string {
  const base = build.setups.find(({ id }) => id === from);
  if (base === undefined) return 'a set-up of your own';
  const left = [...base.layers];
  const changes: string[] = [];
  for (const layer of layers) {
    const same = left.findIndex((each) => JSON.stringify(each) === JSON.stringify(layer));
    if (same >= 0) {
      left.splice(same, 1);
      continue;
    }
    const known = left.findIndex((each) => each.name === layer.name);
    const like = known >= 0 ? known : left.findIndex((each) => each.material === layer.material);
    if (like >= 0) left.splice(like, 1);
    changes.push(`${layer.name} ${thicknessWords(layer)}`);
  }
  const gone = left.map(({ name }) => `no ${name}`);
  const all = [...changes, ...gone];
  return all.length === 0 ? base.name : `${base.name} with ${formatList(all)}`.slice(0, 120);
}

function thicknessWords({ thickness_mm, strips }: Layer): string {
  const thickness = `${Number(thickness_mm.toFixed(3))} mm`;
  return strips === undefined ? thickness : `${thickness} in ${strips.count} strips of ${strips.width_mm} mm`;
}

/** The set-up as a record of the build; its id is given where it is added. */
export function recordOf(build: Build, draft: Draft): Omit<Setup, 'id'> {
  return {
    name: nameOfDraft(build, draft),
    layers: [...draft.layers],
    note: 'Thought of on the heat page; not soaked yet.',
  };
}
