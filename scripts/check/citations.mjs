// @ts-check
/** Every citation in the code leads to an entry of docs/sources.md, and every entry is cited somewhere. */

/** Anywhere: a hyphen tells a key from an index, and two letters before it from a range of letters in a pattern. */
const hyphenated = /\[([A-Z][A-Za-z0-9]+(?:-[A-Za-z0-9.]+)+)\]/g;

/** `[DLMF]`, without a hyphen, counts in comments only; in code it may be a set of letters. */
const plain = /\[([A-Z]{3,}[0-9]*)\]/g;

/** @param {string} line */
function keysIn(line) {
  const comment = /(?:\/\/|\/\*|^\s*\*)(.*)$/.exec(line)?.[1] ?? '';
  return [...line.matchAll(hyphenated), ...comment.matchAll(plain)].map((match) => match[1] ?? '');
}

/** Where there is no key, one of these says why. */
const plainWords = ['common practice, no source', 'from memory', 'derived'];

/** @param {string} sourcesPage content of docs/sources.md @returns {Set<string>} the keys it explains, each in bold */
export function listedKeys(sourcesPage) {
  return new Set([...sourcesPage.matchAll(/\*\*\[([^\]]+)\]\*\*/g)].map((match) => match[1] ?? ''));
}

/**
 * @param {ReadonlyArray<{ file: string, text: string }>} sources
 * @param {ReadonlySet<string>} listed
 * @returns {string[]} one sentence for each fault
 */
export function findCitationFaults(sources, listed) {
  const faults = [];
  const cited = new Set();
  for (const { file, text } of sources) {
    for (const [index, line] of text.split('\n').entries()) {
      const keys = keysIn(line);
      for (const key of keys) {
        cited.add(key);
        if (!listed.has(key))
          faults.push(`${file}:${index + 1} cites [${key}], which docs/sources.md does not explain.`);
      }
      const claim = /@source\b(.*)/.exec(line)?.[1];
      if (claim !== undefined && keys.length === 0 && !plainWords.some((words) => claim.includes(words))) {
        faults.push(
          `${file}:${index + 1} has @source without a [KEY]; where there is none, write "${plainWords[0]}".`,
        );
      }
    }
  }
  for (const key of listed) {
    if (!cited.has(key)) faults.push(`docs/sources.md explains [${key}], which nothing cites.`);
  }
  return faults;
}
