/** Time after the start to the second, h:mm:ss, for limits that are set to a row. */
export function clockWords(after_s: number): string {
  const whole = Math.round(after_s);
  const [hours, minutes, seconds] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return `${hours}:${String(minutes).padStart(2, '0')}:${String(seconds).padStart(2, '0')}`;
}

/** A wall clock reading as a person checks it: "2025-04-05 08:30:00 UTC". */
export function momentWords(at: string): string {
  return `${at.slice(0, 19).replace('T', ' ')} UTC`;
}
