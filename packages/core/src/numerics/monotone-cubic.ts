/** A smooth curve through points, and its slope. Both hold between the first and the last point. */
export interface MonotoneCurve {
  at(x: number): number;
  slopeAt(x: number): number;
}

/**
 * A curve through points that rises or falls wherever the points do and swings past none of them: cubics with the slopes of
 * Fritsch and Butland.
 *
 * @param xs strictly rising, at least two
 * @param ys as many
 * @source [FRITSCH-BUTLAND-84] the harmonic mean of the neighbouring slopes; ends by the three-point formula, kept monotone
 */
export function passMonotone(xs: readonly number[], ys: readonly number[]): MonotoneCurve {
  const widths = xs.slice(1).map((x, i) => x - (xs[i] as number));
  const chords = widths.map((width, i) => ((ys[i + 1] as number) - (ys[i] as number)) / width);
  const slopes = xs.map((_, i) => slopeAtPoint(i, widths, chords));

  /** The cubic's piece that holds x, and how far into it x lies, from 0 to 1. */
  const find = (x: number) => {
    let piece = 0;
    for (let beyond = widths.length; beyond - piece > 1; ) {
      const middle = (piece + beyond) >> 1;
      if (x >= (xs[middle] as number)) piece = middle;
      else beyond = middle;
    }
    const width = widths[piece] as number;
    return {
      width,
      share: (x - (xs[piece] as number)) / width,
      from: ys[piece] as number,
      to: ys[piece + 1] as number,
      slopeFrom: slopes[piece] as number,
      slopeTo: slopes[piece + 1] as number,
    };
  };
  return {
    at(x) {
      const { width, share, from, to, slopeFrom, slopeTo } = find(x);
      const rest = 1 - share;
      return (
        from * (1 + 2 * share) * rest * rest +
        slopeFrom * width * share * rest * rest +
        to * share * share * (3 - 2 * share) -
        slopeTo * width * share * share * rest
      );
    },
    slopeAt(x) {
      const { width, share, from, to, slopeFrom, slopeTo } = find(x);
      const rest = 1 - share;
      return (
        (6 * share * rest * (to - from)) / width +
        slopeFrom * rest * (1 - 3 * share) +
        slopeTo * share * (3 * share - 2)
      );
    },
  };
}

function slopeAtPoint(i: number, widths: readonly number[], chords: readonly number[]): number {
  const last = widths.length;
  if (last === 1) return chords[0] as number;
  if (i === 0) return slopeAtEnd(widths[0], widths[1], chords[0], chords[1]);
  if (i === last) return slopeAtEnd(widths[last - 1], widths[last - 2], chords[last - 1], chords[last - 2]);
  const [before, after] = [chords[i - 1] as number, chords[i] as number];
  if (before * after <= 0) return 0;
  const [left, right] = [widths[i - 1] as number, widths[i] as number];
  const [weightBefore, weightAfter] = [2 * right + left, right + 2 * left];
  return (weightBefore + weightAfter) / (weightBefore / before + weightAfter / after);
}

/** The slope at an end from the two pieces next to it, held back where it would turn round or overshoot. */
function slopeAtEnd(near = 0, far = 0, nearChord = 0, farChord = 0): number {
  const slope = ((2 * near + far) * nearChord - near * farChord) / (near + far);
  if (slope * nearChord <= 0) return 0;
  if (nearChord * farChord <= 0 && Math.abs(slope) > 3 * Math.abs(nearChord)) return 3 * nearChord;
  return slope;
}
