// @ts-check
/** npm drops checksums from a lock that it rewrites while packages are installed; this notices. */

/**
 * @param {{ packages: Record<string, { link?: boolean, integrity?: string }> }} lock content of package-lock.json
 * @returns {string[]} one sentence for each fault
 */
export function findLockFaults(lock) {
  const bare = Object.entries(lock.packages)
    .filter(([path, entry]) => path.includes('node_modules/') && !entry.link && !entry.integrity)
    .map(([path]) => path);
  return bare.length === 0
    ? []
    : [
        `package-lock.json has no checksum for ${bare.length} packages (${bare.slice(0, 3).join(', ')} ...). Delete it and node_modules, then run npm install once.`,
      ];
}
