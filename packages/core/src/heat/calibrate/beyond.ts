import { formatNumber } from '../../measure/index.js';
import type { Build, Layer, Setup } from '../../records/index.js';
import type { DeviceModel } from '../device/device-model.js';
import { thickestStillGap_mm } from '../physics/gap-convection.js';

/** Thicknesses are typed in hundredths: less than this apart they are the same, mm. */
const same_mm = 0.005;

/**
 * How a set-up leaves what was soaked, in words: a material that no soak has seen, a thickness beyond those that were.
 *
 * Inside is no promise and outside is no refusal: it says where leaving set-ups out has tested nothing.
 *
 * @param measured ids of the set-ups with counted runs
 */
export function leavesSoaked(
  build: Pick<Build, 'setups'>,
  setup: Pick<Setup, 'layers'>,
  measured: ReadonlySet<string>,
): string[] {
  const soaked = build.setups.filter(({ id }) => measured.has(id)).flatMap(({ layers }) => layers);
  const words = setup.layers.flatMap((layer) => {
    const alike = soaked.filter((other) => isAlike(other, layer));
    if (alike.length === 0) return [`no set-up with ${whatIs(layer)} was soaked`];
    const thicknesses = alike.map(({ thickness_mm }) => thickness_mm);
    const [least, most] = [Math.min(...thicknesses), Math.max(...thicknesses)];
    if (layer.thickness_mm >= least - same_mm && layer.thickness_mm <= most + same_mm) return [];
    const range =
      most - least < same_mm
        ? `${formatNumber(least, 2)} mm`
        : `${formatNumber(least, 2)} to ${formatNumber(most, 2)} mm`;
    return [`${whatIs(layer)} of ${formatNumber(layer.thickness_mm, 2)} mm; soaked were ${range}`];
  });
  return [...new Set(words)];
}

function isAlike(one: Layer, other: Layer): boolean {
  return (
    one.material === other.material &&
    one.grade === other.grade &&
    (one.strips === undefined) === (other.strips === undefined)
  );
}

function whatIs({ material, grade, strips, name }: Layer): string {
  const what = material === 'other' ? name : (grade ?? material);
  return strips === undefined ? what : `strips of ${what}`;
}

/** A share of the plan too small to matter. @assumed common practice, no source */
const smallShare = 0.05;

/**
 * Gaps in which air would circulate and carry more heat than the model lets it, in words; empty where none matters.
 *
 * @param rise_K of every cell
 * @source [HOLLANDS-76] the critical Rayleigh number, by `thickestStillGap_mm`; upright gaps stay still longer
 */
export function circulatesIn(
  { gaps, grid, nx, nz }: Pick<DeviceModel, 'gaps' | 'grid' | 'nx' | 'nz'>,
  rise_K: Float64Array,
  ambient_C: number,
): string[] {
  const size = (edges: Float64Array, at: number) => (edges[at + 1] as number) - (edges[at] as number);
  let area = 0;
  let thickest_mm = 0;
  for (let gap = 0; gap < gaps.count; gap++) {
    const thickness_mm = 1000 * (gaps.thickness_m[gap] as number);
    if (thickness_mm < thinnest_mm) continue;
    const faces = [
      rise_K[(gaps.first[gap] as number) - 1] as number,
      rise_K[(gaps.last[gap] as number) + 1] as number,
    ] as const;
    const [cold, hot] = [Math.min(...faces), Math.max(...faces)];
    if (thickness_mm <= thickestStillGap_mm(ambient_C + hot, ambient_C + cold)) continue;
    const column = Math.floor((gaps.first[gap] as number) / nz);
    area += size(grid.x_m, column % nx) * size(grid.y_m, Math.floor(column / nx));
    thickest_mm = Math.max(thickest_mm, thickness_mm);
  }
  const whole =
    ((grid.x_m.at(-1) as number) - (grid.x_m[0] as number)) *
    ((grid.y_m.at(-1) as number) - (grid.y_m[0] as number));
  if (area < smallShare * whole) return [];
  return [
    `Air would circulate in gaps of up to ${formatNumber(thickest_mm, 1)} mm, over ${formatNumber((100 * area) / whole, 0)} % of the plan. The model has air at rest; what circulates is in the fitted factors.`,
  ];
}

/** No gap thinner than this circulates in any device, mm. */
const thinnest_mm = 3;
