import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';

/** Set-ups that are described and were never soaked. */
export function untriedSetups(build: Build, { compare }: Pick<Assessment, 'compare'>): string[] {
  const measured = new Set(compare.main?.setups.map(({ setup }) => setup));
  return compare.main === null ? [] : build.setups.filter(({ id }) => !measured.has(id)).map(({ id }) => id);
}
