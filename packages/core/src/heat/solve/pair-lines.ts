/**
 * Which neighbouring lines of cells become one line of the next coarser grid. The same pairs hold for all layers.
 * Lines are numbered along one axis; a pair is two neighbours.
 */
export interface LinePairing {
  /** Coarse line of each fine line. */
  readonly own: Int32Array;
  /** First fine line of each coarse line, and at the end the number of fine lines. */
  readonly first: Int32Array;
}

/** One axis: sizes of its lines and, for each gap between two, whether the material changes there. */
export interface Axis {
  readonly sizes: Float64Array;
  readonly seams: Uint8Array;
}

/**
 * How much wider than the narrowest pair a pair may be to merge in the same step. 1 would merge one size at a time and
 * give too many levels, infinity would mix scales.
 *
 * @assumed 3: found by trial on the cases in the robustness test; 2 to 4 change the iterations by one or two.
 */
const reach = 3;

/**
 * A pair across a change of material counts so much wider: merging it would hide the resistance between the two.
 *
 * @assumed 5: found by trial on the robustness test's cases, also with twice the cells each way, and on devices. 10 makes levels that shrink
 * too little where materials change every few lines, as in a device; with 3 a thin wire takes twice the iterations, with 2 or none a plate
 * with slots.
 */
const seamPenalty = 5;

/**
 * Where every pair is so penalised, those up to this much wider than the first to merge go with it.
 *
 * @assumed 1.3: found by trial. 1 makes many levels of little use, 2 costs an iteration.
 */
const lateReach = 1.3;

/**
 * Pairs lines of both axes so that cells become as square as they can: one greatest width holds for x and y together.
 * Some pair always merges while there is one. Forcing more to merge than fit costs iterations on graded grids.
 */
export function pairLines(x: Axis, y: Axis): { x: LinePairing; y: LinePairing } {
  const pairs = [...widthsOf(x, 'x'), ...widthsOf(y, 'y')].sort((a, b) => a.width - b.width);
  const widest = Math.max(
    reach * Math.min(...pairs.map(({ bareWidth }) => bareWidth)),
    lateReach * (pairs[0]?.width ?? 0),
  );
  const merged = { x: new Uint8Array(x.sizes.length), y: new Uint8Array(y.sizes.length) };
  const starts = { x: new Uint8Array(x.sizes.length), y: new Uint8Array(y.sizes.length) };
  for (const { axis, at, width } of pairs) {
    if (width > widest) break;
    if (merged[axis][at] || merged[axis][at + 1]) continue;
    merged[axis][at] = 1;
    merged[axis][at + 1] = 1;
    starts[axis][at] = 1;
  }
  return { x: pairingOf(starts.x), y: pairingOf(starts.y) };
}

function widthsOf({ sizes, seams }: Axis, axis: 'x' | 'y') {
  return Array.from({ length: sizes.length - 1 }, (_, at) => {
    const bareWidth = sizes[at]! + sizes[at + 1]!;
    return { axis, at, bareWidth, width: bareWidth * (seams[at] ? seamPenalty : 1) };
  });
}

function pairingOf(starts: Uint8Array): LinePairing {
  const own = new Int32Array(starts.length);
  const first: number[] = [];
  for (let line = 0; line < starts.length; line++) {
    own[line] = first.length;
    first.push(line);
    if (starts[line]) own[++line] = first.length - 1;
  }
  return { own, first: Int32Array.from([...first, starts.length]) };
}

/** The axis as the coarser grid sees it: a gap inside a pair is gone, the others keep their mark. */
export function coarsenAxis({ sizes, seams }: Axis, { own, first }: LinePairing): Axis {
  const count = first.length - 1;
  const coarse = { sizes: new Float64Array(count), seams: new Uint8Array(Math.max(0, count - 1)) };
  for (let line = 0; line < sizes.length; line++) coarse.sizes[own[line]!]! += sizes[line]!;
  for (let at = 0; at + 1 < count; at++) coarse.seams[at] = seams[first[at + 1]! - 1]!;
  return coarse;
}

/**
 * Across a coarse face heat travels further than across the fine faces it is made of: the ratio of the distances between
 * the centres on both sides, fine over coarse, for the gap before each coarse line; the first is unused.
 */
export function stretchOf(fine: Axis, coarse: Axis, { first }: LinePairing): Float64Array {
  return coarse.sizes.map((size, at) => {
    const line = first[at]!;
    return at === 0 ? 1 : (fine.sizes[line - 1]! + fine.sizes[line]!) / (coarse.sizes[at - 1]! + size);
  });
}

/** Coarse line next to each fine line on its own side of the pair: itself where there is none. */
export function besideOf({ own, first }: LinePairing): Int32Array {
  const count = first.length - 1;
  return own.map((coarse, line) => {
    const paired = first[coarse + 1]! - first[coarse]! === 2;
    const beside = !paired ? coarse : line === first[coarse] ? coarse - 1 : coarse + 1;
    return beside < 0 || beside >= count ? coarse : beside;
  });
}
