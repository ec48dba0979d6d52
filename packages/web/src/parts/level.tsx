import { type LevelLook, levelIcon } from '@soakbench/core/drawing';
import { shapeNode } from './shape-node.js';

/**
 * Levels are shapes and words first, colour last: disc, triangle, barred square, dashed ring.
 * `holds`, `look`, `stop` judge a check or a margin; `prefer`, `wear`, `stop` judge a temperature.
 */
/** What a drawing can show, and `unknown` for what was not measured. */
export type Level = LevelLook | 'unknown';

const wordOf: Record<Level, string> = {
  holds: 'holds',
  look: 'look',
  stop: 'stop',
  none: 'not yet',
  prefer: 'prefer',
  wear: 'wear',
  unknown: 'not measured',
  shown: 'shown',
  'not-shown': 'not shown',
};

export function levelWord(level: Level): string {
  return wordOf[level];
}

/** The shape alone; put a word beside it, or use `LevelWord`. */
export function LevelShape({
  level,
  class: className = '',
}: {
  readonly level: Level;
  readonly class?: string;
}) {
  const { classes, viewBox, shapes } = levelIcon(level === 'unknown' ? 'none' : level);
  return (
    <svg class={`${classes} ${className}`.trimEnd()} viewBox={viewBox} aria-hidden="true">
      {shapes.map((shape) => shapeNode(shape, 'lv'))}
    </svg>
  );
}

/** Shape and word; `word` replaces the level's own word where the page has a better one. */
export function LevelWord({ level, word }: { readonly level: Level; readonly word?: string }) {
  return (
    <span class="word">
      <LevelShape level={level} />
      {word ?? wordOf[level]}
    </span>
  );
}
