/**
 * The room as the device feels it: its temperature seen through the device's own sluggishness.
 *
 * A body with time constant τ answers a change of the room exactly as it answers a change of power, so subtracting the room
 * delayed by τ leaves the rise that the power alone makes. Subtracting the room as it is now would be wrong by drift rate × τ.
 *
 * @param ambient_C one per time; missing readings (NaN) hold the last value
 * @param tau_s time constant, s; 0 returns the room as it is
 * @source derived: exact solution of τ dx/dt = a - x for a room that is linear between samples
 */
export function followAmbient(after_s: Float64Array, ambient_C: Float64Array, tau_s: number): Float64Array {
  const felt = new Float64Array(ambient_C.length);
  let last = ambient_C.find((value) => !Number.isNaN(value)) ?? Number.NaN;
  let state = last;
  let step = 0;
  let kept = 1;
  for (let i = 0; i < ambient_C.length; i++) {
    const raw = ambient_C[i] as number;
    const now = Number.isNaN(raw) ? last : raw;
    if (tau_s <= 0 || i === 0) {
      state = tau_s <= 0 ? now : state;
    } else {
      const since = (after_s[i] as number) - (after_s[i - 1] as number);
      // Most logs are even, and the exponential is the dear part.
      if (since !== step) {
        step = since;
        kept = Math.exp(-step / tau_s);
      }
      const slope = (now - last) / step;
      state = now - slope * tau_s + (state - last + slope * tau_s) * kept;
    }
    felt[i] = state;
    last = now;
  }
  return felt;
}
