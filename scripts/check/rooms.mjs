// @ts-check
/** The rooms named in stages.ts are the rooms there are. */

/**
 * @param {{ stages: readonly string[], built: readonly string[], foundations: readonly string[] }} plan
 * @param {Readonly<Record<string, readonly string[]>>} rooms names of the rooms in each package's `src`
 * @returns {string[]} one sentence for each fault
 */
export function findRoomFaults({ stages, built, foundations }, rooms) {
  const faults = [];
  for (const stage of built) {
    for (const house of ['core', 'server', 'cli', 'web']) {
      if (!rooms[house]?.includes(stage))
        faults.push(`packages/${house}/src has no room for ${stage}, which stages.ts calls built.`);
    }
  }
  for (const [house, names] of Object.entries(rooms)) {
    for (const name of names) {
      if (stages.includes(name) && !built.includes(name)) {
        faults.push(`packages/${house}/src/${name} exists, but stages.ts does not call ${name} built.`);
      }
    }
  }
  for (const name of rooms['core'] ?? []) {
    if (!stages.includes(name) && !foundations.includes(name)) {
      faults.push(
        `packages/core/src/${name} is neither a stage nor one of the foundations (${foundations.join(', ')}).`,
      );
    }
  }
  return faults;
}
