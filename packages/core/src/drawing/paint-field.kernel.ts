/**
 * A field at knots, painted pixel by pixel, straight between knots in both directions.
 *   V  values at knots, V[i + n j]      °C  n m  |  I, J  the knot to the left of, or above, each pixel   w, h
 *   n  knots along                               |  S, T  how far each pixel is on to the next knot       w, h
 *   C  colours, 256, as the pixels want them     |  P     pixels, w h, written
 *   low, perK  where the colours begin, and how many there are to a kelvin
 */
export function paintPixels(
  V: Float32Array,
  n: number,
  I: Int32Array,
  S: Float32Array,
  J: Int32Array,
  T: Float32Array,
  C: Uint32Array,
  low: number,
  perK: number,
  P: Uint32Array,
): void {
  const w = I.length;
  const h = J.length;
  for (let y = 0; y < h; y++) {
    const row = n * J[y]!;
    const t = T[y]!;
    for (let x = 0; x < w; x++) {
      const at = row + I[x]!;
      const s = S[x]!;
      const near = V[at]! + s * (V[at + 1]! - V[at]!);
      const far = V[at + n]! + s * (V[at + n + 1]! - V[at + n]!);
      const place = (near + t * (far - near) - low) * perK;
      P[y * w + x] = C[place < 0 ? 0 : place > 255 ? 255 : place | 0]!;
    }
  }
}
