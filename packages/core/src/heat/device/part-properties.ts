import {
  conductivityInPlane,
  type Finish,
  findMaterial,
  type Material,
  materialOfLayer,
  type Property,
} from '../../materials/index.js';
import { BadInputError, formatNumber } from '../../measure/index.js';
import type { Layer } from '../../records/index.js';
import type { Part } from './part.js';
import { insideZones, seam, type Unknown, unknownOf } from './unknown.js';

export type Properties = Pick<
  Part,
  | 'kInPlane_W_per_mK'
  | 'kThrough_W_per_mK'
  | 'kSlope_per_K'
  | 'heatCapacity_J_per_m3K'
  | 'emissivity'
  | 'scaledBy'
>;

const unscaled = { inPlane: null, through: null };

/** The usual face of plastics and covered parts, where a material has no face of its own. @assumed */
const usualEmissivity = 0.9;

/** Air in a gap: what it conducts is put in gap by gap; these only start the first pass. */
export function airProperties(gap: Unknown): Properties {
  return {
    kInPlane_W_per_mK: 0.027,
    kThrough_W_per_mK: 0.027,
    kSlope_per_K: 0,
    heatCapacity_J_per_m3K: 1.2e3,
    emissivity: usualEmissivity,
    scaledBy: { inPlane: gap, through: gap },
  };
}

/**
 * A packaged component from board to top: silicon, frame and mould as one.
 *
 * @assumed common practice, no source: mould compounds conduct 0.7 to 1, frames and dies 100 and more
 */
export const componentProperties: Properties = {
  kInPlane_W_per_mK: 15,
  kThrough_W_per_mK: 3,
  kSlope_per_K: 0,
  heatCapacity_J_per_m3K: 1.7e6,
  emissivity: usualEmissivity,
  scaledBy: { inPlane: insideZones, through: insideZones },
};

/** Edge folds, tape and air between two cells. @assumed common practice, no source */
export const seamProperties: Properties = {
  kInPlane_W_per_mK: 0.1,
  kThrough_W_per_mK: 0.1,
  kSlope_per_K: 0,
  heatCapacity_J_per_m3K: 0.8e6,
  emissivity: usualEmissivity,
  scaledBy: { inPlane: seam, through: null },
};

/** A part of the device by its row in the table, its conductivities unknown within their spread where `varies`. */
export function bodyProperties(id: string, where: string, varies: boolean): Properties {
  const material = findMaterial(id);
  if (material === undefined) {
    throw new BadInputError([
      {
        where,
        what: `There is no material ${id} in the table.`,
        remedy: 'Name one that the table lists.',
      },
    ]);
  }
  return {
    ...propertiesOf(material, material.kInPlane_W_per_mK, material.kThrough_W_per_mK, undefined),
    scaledBy: varies
      ? {
          inPlane: unknownOf(`in-plane:${id}`, `${material.name}, along it`, material.kInPlane_W_per_mK),
          through: unknownOf(`through:${id}`, `${material.name}, through it`, material.kThrough_W_per_mK),
        }
      : unscaled,
  };
}

/**
 * A layer by its own data sheet, else by the table's row for its grade or word.
 *
 * @throws BadInputError naming the layer, where the table cannot tell what it is
 */
export function propertiesOfLayer(layer: Layer, where: string): Properties {
  const looked = materialOfLayer(layer);
  if (!looked.ok) {
    throw new BadInputError([
      looked.reason.kind === 'not-stated'
        ? {
            where,
            what: `What ${layer.name} is made of is not stated.`,
            remedy: 'Choose a material for it, so that its conductivity can be looked up.',
          }
        : {
            where,
            what: `The table has no ${layer.grade ?? layer.material} for a layer of ${layer.material}.`,
            remedy: 'Choose a grade that the table lists under this material.',
          },
    ]);
  }
  const material = looked.value;
  const inPlane = conductivityInPlane(material, layer.thickness_mm);
  if (!inPlane.ok) {
    const [least, most] = inPlane.reason.listed_mm;
    throw new BadInputError([
      {
        where: `${where}.thickness_mm`,
        what: `${material.name} of ${layer.thickness_mm} mm is not in the table, which covers ${formatNumber(least, 3)} to ${formatNumber(most, 3)} mm.`,
        remedy: 'Enter its conductivity from the data sheet as kInPlane_W_per_mK, or another thickness.',
      },
    ]);
  }
  const along = stated(layer.kInPlane_W_per_mK, inPlane.value);
  const through = stated(layer.k_W_per_mK, material.kThrough_W_per_mK);
  const isSame = along.value === through.value;
  const throughUnknown = unknownOf(
    `through:${material.id}`,
    isSame ? material.name : `${material.name}, through it`,
    through,
  );
  return {
    ...propertiesOf(material, along, through, layer.finish),
    ...(layer.kSlope_per_K === undefined ? {} : { kSlope_per_K: layer.kSlope_per_K }),
    scaledBy: {
      through: throughUnknown,
      inPlane: isSame
        ? throughUnknown
        : unknownOf(`in-plane:${material.id}`, `${material.name}, along it`, along),
    },
  };
}

/** A data sheet's figure holds for its lot, not for this sheet. @assumed 10 %, common practice, no source */
const sheetSpread = 0.1;

function stated(value: number | undefined, tabled: Property): Property {
  return value === undefined
    ? tabled
    : { value, spread: sheetSpread, range: [value, value], source: 'data sheet, as entered', status: 'read' };
}

function propertiesOf(
  material: Material,
  along: Property,
  through: Property,
  finish: Finish | undefined,
): Omit<Properties, 'scaledBy'> {
  const face = material.faces.find((each) => each.finish === finish) ?? material.faces[0];
  return {
    kInPlane_W_per_mK: along.value,
    kThrough_W_per_mK: through.value,
    kSlope_per_K: material.kSlope_per_K?.value ?? 0,
    heatCapacity_J_per_m3K: material.density_kg_per_m3.value * material.specificHeat_J_per_kgK.value,
    emissivity: face?.emissivity.value ?? usualEmissivity,
  };
}
