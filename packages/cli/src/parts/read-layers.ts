import { roleOf, stockMaterials } from '@soakbench/core/heat';
import { findMaterial, materialOfLayer } from '@soakbench/core/materials';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Build, Layer, Setup } from '@soakbench/core/records';

/** What a set-up is typed for: its own set-ups to begin from, and the pack that an inset is counted from. */
type Around = Pick<Build, 'setups' | 'newPack'>;

const remedy =
  'Write it as MATERIAL=MM, with ,inset=MM or ,strips=COUNTxMM behind it, as in aluminium=0.5,inset=4';

/**
 * A set-up as typed: its layers from the zones towards the pack, or those of a set-up of the build with some of them changed.
 *
 * @param like the id of a set-up to begin from
 * @param typed layers; behind `N:` the one that takes the place of the Nth, or follows the last
 * @param whereOf what a fault in a layer is said of
 * @throws BadInputError naming every word that cannot be
 */
export function readSetup(
  build: Around,
  like: string | undefined,
  typed: readonly string[],
  whereOf = (layer: string) => `--layer ${layer}`,
): Setup {
  const faults: Fault[] = [];
  const base = like === undefined ? undefined : build.setups.find(({ id }) => id === like);
  if (like !== undefined && base === undefined)
    faults.push({
      where: `--like ${like}`,
      what: 'There is no such set-up.',
      remedy: `Use one of: ${build.setups.map(({ id }) => id).join(', ')}.`,
    });
  const layers: Layer[] = [...(base?.layers ?? [])];
  for (const words of typed) {
    const where = whereOf(words);
    const match = /^(?:(\d+):)?([a-z0-9-]+)=([^,]+)((?:,[a-z]+=[^,]+)*)$/.exec(words.trim());
    if (match === null) {
      faults.push({ where, what: 'This is no layer.', remedy });
      continue;
    }
    const [, place, material = '', thickness = '', more = ''] = match;
    const at = place === undefined ? layers.length : Number(place) - 1;
    if (at < 0 || at > layers.length) {
      faults.push({
        where,
        what: `There is no layer ${place}: the set-up has ${layers.length}.`,
        remedy: `Count from the zones, 1 to ${layers.length + 1}.`,
      });
      continue;
    }
    const layer = readLayer(build, where, material, thickness, more, layers[at], faults);
    if (layer !== null) layers[at] = layer;
  }
  if (faults.length > 0) throw new BadInputError(faults);
  return { id: 'asked', name: base === undefined ? 'as typed' : `${base.name}, changed`, layers };
}

function readLayer(
  build: Around,
  where: string,
  material: string,
  thickness: string,
  more: string,
  before: Layer | undefined,
  faults: Fault[],
): Layer | null {
  const row = findMaterial(material);
  if (row === undefined || (roleOf(material) === undefined && material !== 'air')) {
    faults.push({
      where,
      what: `There is no material ${material} for layers.`,
      remedy: `Use one of: ${stockMaterials.join(', ')}.`,
    });
    return null;
  }
  const thickness_mm = readLength(where, thickness, faults);
  if (thickness_mm === null) return null;
  const outline = build.newPack?.outline;
  const usual = materialOfLayer({ material: row.layer });
  const layer: Layer = {
    material: row.layer,
    ...(usual.ok && usual.value.id === row.id ? {} : { grade: row.id }),
    name: material.replaceAll('-', ' '),
    thickness_mm,
    ...(before?.outline === undefined ? {} : { outline: before.outline }),
    ...(before?.strips === undefined ? {} : { strips: before.strips }),
  };
  for (const part of more.split(',').slice(1)) {
    const [word = '', value = ''] = part.split('=');
    const strips = /^(\d+)x(.+)$/.exec(value);
    if (word === 'inset') {
      const inset_mm = value === '0' ? 0 : readLength(where, value, faults);
      if (inset_mm === null) continue;
      if (outline === undefined) {
        faults.push({
          where,
          what: 'The new pack has no outline that a layer could stand back from.',
          remedy: 'Enter the outline of the pack first, or leave out the inset.',
        });
        continue;
      }
      if (2 * inset_mm >= Math.min(outline.length_mm, outline.width_mm))
        faults.push({
          where,
          what: `${value} mm in from every edge of the pack leaves nothing.`,
          remedy: 'Give less than half of the pack’s width.',
        });
      layer.outline = {
        x_mm: outline.x_mm + inset_mm,
        y_mm: outline.y_mm + inset_mm,
        length_mm: outline.length_mm - 2 * inset_mm,
        width_mm: outline.width_mm - 2 * inset_mm,
      };
    } else if (word === 'strips' && strips !== null) {
      const width_mm = readLength(where, strips[2] ?? '', faults);
      const count = Number(strips[1]);
      if (count < 1 || count > 40)
        faults.push({ where, what: `${count} strips cannot be.`, remedy: 'Give 1 to 40.' });
      else if (width_mm !== null) layer.strips = { count, width_mm };
    } else faults.push({ where, what: `"${part}" says nothing of a layer.`, remedy });
  }
  return layer;
}

function readLength(where: string, typed: string, faults: Fault[]): number | null {
  const value = /^\d+([.]\d+)?$/.test(typed.trim()) ? Number(typed) : Number.NaN;
  if (value > 0 && value < 100) return value;
  faults.push({
    where,
    what: `"${typed}" is no thickness or width.`,
    remedy: 'Give it in millimetres with a point, above 0, as in 0.5',
  });
  return null;
}
