/** The name a person most likely meant, if one is near enough: a few letters off, or begun and not finished. */
export function findNearest(typed: string, names: readonly string[]): string | undefined {
  const begun = names.filter((name) => typed.length > 1 && name.startsWith(typed));
  if (begun.length === 1) return begun[0];
  const ranked = names.map((name) => ({ name, off: distance(typed, name) })).sort((a, b) => a.off - b.off);
  const best = ranked[0];
  return best !== undefined && best.off <= (typed.length > 3 ? 2 : 1) ? best.name : undefined;
}

/** Letters to add, drop or change, by Levenshtein. */
function distance(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (const [i, letter] of [...one].entries()) {
    const next = [i + 1];
    for (const [j, against] of [...other].entries()) {
      next.push(
        Math.min((next[j] ?? 0) + 1, (row[j + 1] ?? 0) + 1, (row[j] ?? 0) + (letter === against ? 0 : 1)),
      );
    }
    row = next;
  }
  return row.at(-1) ?? 0;
}
