/** Whether the air in a gap stays at rest, as every conductance of a gap here assumes. */
import { metreFromMillimetre, OutOfRangeError } from '../../measure/index.js';
import { rayleighNumber } from './rayleigh.js';

/** Below it a layer heated from below stays at rest. @source [HOLLANDS-76] and long before it; second hand, 1708 in public code */
const criticalRayleigh = 1708;

/** How a gap lies: which face is the hot one, or that it stands upright. */
export type GapAttitude = 'heated-below' | 'heated-above' | 'upright';

export interface GapConvection {
  readonly rayleigh: number;
  /** Times that moving air carries what resting air would; 1 at rest. */
  readonly nusselt: number;
  readonly still: boolean;
}

/**
 * Whether the air in a gap moves, and as a measure of how much, what it then carries.
 *
 * The number is for a flag only, no model here uses it: a gap thin enough to shield with is at rest in any attitude. Wide layers are
 * assumed; side walls hold the air back further.
 *
 * @param thickness_mm above 0, at most 50 mm
 * @param hot_C hotter face
 * @param cold_C colder face
 * @param attitude of the gap; an upright one needs its height
 * @param height_mm of an upright gap, above 0
 * @throws OutOfRangeError for thickness or height
 * @source [HOLLANDS-76] heated from below, second hand; [ELSHERBINY-82] upright, from memory
 */
export function gapConvection(
  thickness_mm: number,
  hot_C: number,
  cold_C: number,
  attitude: GapAttitude,
  height_mm = 0,
): GapConvection {
  if (!(thickness_mm > 0 && thickness_mm <= 50)) {
    throw new OutOfRangeError('thickness_mm', thickness_mm, [0, 50], 'Is it in millimetres, and above 0?');
  }
  const rayleigh = rayleighNumber(thickness_mm, hot_C, cold_C);
  const nusselt =
    attitude === 'heated-above'
      ? 1
      : attitude === 'heated-below'
        ? nusseltFromBelow(rayleigh)
        : nusseltUpright(rayleigh, thickness_mm, height_mm);
  return { rayleigh, nusselt, still: nusselt < movingFrom };
}

/** From here air counts as moving: 1 % more than at rest. @assumed below it nothing measurable changes */
const movingFrom = 1.01;

/**
 * Thickest gap in which air heated from below stays at rest.
 *
 * @param hot_C lower face
 * @param cold_C upper face, colder than the lower
 * @returns millimetres; infinite where there is no difference
 * @source derived: [HOLLANDS-76] critical Rayleigh number, solved for the thickness
 */
export function thickestStillGap_mm(hot_C: number, cold_C: number): number {
  const ofOneMillimetre = rayleighNumber(1, hot_C, cold_C);
  return hot_C > cold_C ? Math.cbrt(criticalRayleigh / ofOneMillimetre) : Number.POSITIVE_INFINITY;
}

function nusseltFromBelow(rayleigh: number): number {
  const first = Math.max(0, 1 - criticalRayleigh / rayleigh);
  const second = Math.max(0, Math.cbrt(rayleigh / 5830) - 1);
  return 1 + 1.44 * first + second;
}

function nusseltUpright(rayleigh: number, thickness_mm: number, height_mm: number): number {
  if (!(height_mm > 0)) {
    throw new OutOfRangeError(
      'height_mm',
      height_mm,
      [0, Number.POSITIVE_INFINITY],
      'An upright gap needs its height.',
    );
  }
  const aspect = metreFromMillimetre(height_mm) / metreFromMillimetre(thickness_mm);
  const turbulent = 0.0605 * Math.cbrt(rayleigh);
  const turning = (0.104 * rayleigh ** 0.293) / (1 + (6310 / rayleigh) ** 1.36);
  const laminar = 0.242 * (rayleigh / aspect) ** 0.272;
  return Math.max(turbulent, Math.cbrt(1 + turning ** 3), laminar);
}
