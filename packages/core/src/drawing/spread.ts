/**
 * Moves things along a line until none overlap, each as near to where it belongs as its neighbours allow.
 * Their order is kept, so leader lines from the wish to the place do not cross.
 *
 * Neighbours that collide are merged into a block that sits where the squares of all its members' shifts are least;
 * this is the pool-adjacent-violators scheme for monotone regression.
 *
 * @param wishes centres, in rising order
 * @param sizes room each takes, gap included
 * @param low, high the range all must lie in; where they do not fit, they run over `high`
 * @returns centres
 * @source [BARLOW-1972] section 1.2, pool adjacent violators
 */
export function spreadAlong(
  wishes: readonly number[],
  sizes: readonly number[],
  low: number,
  high: number,
): number[] {
  interface Block {
    first: number;
    count: number;
    /** Sum over members of the start the block would need to put that member at its wish. */
    startSum: number;
    size: number;
  }
  const blocks: Block[] = [];
  const startOf = (block: Block) => Math.max(low, Math.min(block.startSum / block.count, high - block.size));
  for (const [index, wish] of wishes.entries()) {
    const size = sizes[index] ?? 0;
    blocks.push({ first: index, count: 1, startSum: wish - size / 2, size });
    for (;;) {
      const last = blocks.at(-1);
      const before = blocks.at(-2);
      if (last === undefined || before === undefined || startOf(before) + before.size <= startOf(last) + 1e-9)
        break;
      before.startSum += last.startSum - last.count * before.size;
      before.count += last.count;
      before.size += last.size;
      blocks.pop();
    }
  }
  const places: number[] = [];
  for (const block of blocks) {
    let at = startOf(block);
    for (let index = block.first; index < block.first + block.count; index += 1) {
      const size = sizes[index] ?? 0;
      places.push(at + size / 2);
      at += size;
    }
  }
  return places;
}
