import type { RunFlag } from '@soakbench/core/runs';
import { LevelWord } from '../parts/level.js';

/** What was noticed, numbered as in the chart, each with what it does to the result. */
export function RunFlags({
  flags,
  sight,
}: {
  readonly flags: readonly RunFlag[];
  /** What would have been flagged, in sentences. */
  readonly sight: readonly string[];
}) {
  return (
    <section class="flagged">
      <h2>Flags</h2>
      {flags.length === 0 ? (
        <p class="lead">Nothing was noticed that would cost anything.</p>
      ) : (
        <>
          <p class="lead small">Each with what it does to the result.</p>
          <ol class="flags">
            {flags.map((flag, index) => (
              <li key={`${flag.kind} ${flag.title}`}>
                <span>
                  {index + 1}&ensp;
                  <LevelWord level={flag.level} />
                </span>
                <b>{flag.title}</b>
                <span>{flag.detail}</span>
                <span class="effect">{flag.effect}</span>
              </li>
            ))}
          </ol>
        </>
      )}
      {sight.length > 0 && (
        <details class="data">
          <summary>What would have been flagged</summary>
          <ul class="small">
            {sight.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}
