import { shortenWords } from './text-width.js';

/** What a drawing calls a probe where there is little room: its id in capitals ("C1"), or what fits of its name. */
export function probeTag(probe: { readonly id: string; readonly name: string }): string {
  return probe.id.length <= 4 ? probe.id.toUpperCase() : shortenWords(probe.name, 72, true);
}

/** Tag and name without saying the tag twice: "C1 cell 1". */
export function probeTitle(probe: { readonly id: string; readonly name: string }): string {
  const tag = probeTag(probe);
  if (probe.id.length > 4) return probe.name;
  return probe.name.toUpperCase().startsWith(tag) ? probe.name : `${tag} ${probe.name}`;
}
