import type { Probe, Recipe } from '../records/index.js';
import type { ImportQuestion } from './import-question.js';

type Channel = Recipe['channels'][number];

/** A name without its unit and without what only separates: "T_pack (°C)" and "pack" meet as words. */
function nameWords(text: string): string[] {
  return text
    .replace(/[[(].*?[\])]/g, ' ')
    .replace(/[°º˚\uFFFD]\s*[CFK]\b|℃|℉|[_\s](?:deg\s*)?[CFK]$/gi, ' ')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
}

function isName(header: readonly string[], text: string): boolean {
  return header.length > 0 && header.join(' ') === nameWords(text).join(' ');
}

function holdsName(header: readonly string[], text: string): boolean {
  const wanted = nameWords(text);
  return wanted.length > 0 && wanted.every((word) => header.includes(word));
}

/** Whether a header holds the name or id of one of the probes. */
export function namesProbe(header: string, probes: readonly Probe[]): boolean {
  const found = nameWords(header);
  return probes.some(({ id, name }) => holdsName(found, id) || holdsName(found, name));
}

/** By equal name or id first, then by the one probe whose words all stand in the header. Nothing is matched by order. */
export function matchProbes(
  channels: readonly Channel[],
  probes: readonly Probe[],
): { channels: Channel[]; conclusions: string[]; questions: ImportQuestion[] } {
  const probeOf = new Map<number, string>();
  const taken = new Set<string>();
  const claim = (fits: (header: string[], probe: Probe) => boolean) => {
    const claims = channels.map(({ header }, index) =>
      probeOf.has(index)
        ? []
        : probes.filter((probe) => !taken.has(probe.id) && fits(nameWords(header), probe)),
    );
    for (const [index, claimed] of claims.entries()) {
      const only = claimed[0];
      if (only === undefined || claimed.length > 1) continue;
      if (claims.filter((others) => others.some(({ id }) => id === only.id)).length > 1) continue;
      probeOf.set(index, only.id);
      taken.add(only.id);
    }
  };
  claim((header, { id }) => isName(header, id));
  claim((header, { name }) => isName(header, name));
  claim((header, { id, name }) => holdsName(header, id) || holdsName(header, name));

  const free = probes.filter(({ id }) => !taken.has(id));
  const conclusions: string[] = [];
  const questions: ImportQuestion[] = [];
  const matched = channels.map((channel, index): Channel => {
    const place = `Column ${channel.column + 1}${channel.header === '' ? '' : ` ("${channel.header}")`}`;
    const probe = probeOf.get(index);
    if (probe !== undefined) {
      conclusions.push(`${place} belongs to probe "${probe}", by its header.`);
      return { ...channel, probe };
    }
    if (probes.length > 0) conclusions.push(`${place} matches no probe by its header.`);
    if (free.length > 0) {
      questions.push({
        field: `channels.${index}.probe`,
        question: `Which probe does ${place.replace(/^C/, 'c')} belong to?`,
        options: [
          { label: 'None: keep it, but do not use it', set: { [`channels.${index}.probe`]: null } },
          ...free.map(({ id, name }) => ({ label: name, set: { [`channels.${index}.probe`]: id } })),
        ],
        chosen: 0,
      });
    }
    return channel;
  });
  return { channels: matched, conclusions, questions };
}
