import { LevelShape } from '../parts/level.js';
import { pageHref } from '../router.js';
import type { LedgerGroup } from './present-run.js';

interface RunLedgerProps {
  readonly build: string;
  readonly groups: readonly LedgerGroup[];
  readonly selected: string | null;
  /** What the figures are: "Rise at C1 cell 1 under load". */
  readonly caption: string;
}

/** Every run under its set-up, with its rise and its state. */
export function RunLedger({ build, groups, selected, caption }: RunLedgerProps) {
  return (
    <nav class="ledger" aria-label="Runs">
      <p class="small">{caption}</p>
      {groups.map((group) => (
        <section key={group.setup}>
          <h3>
            <span>{group.name}</span>
            <span>{group.count}</span>
          </h3>
          <ul>
            {group.rows.map((row) => (
              <li key={row.run}>
                <a
                  href={pageHref(build, 'runs', row.run)}
                  aria-current={row.run === selected ? 'true' : undefined}
                >
                  <span class="n">{row.name}</span>
                  <span class="v">{row.rise}</span>
                  <span class="s">
                    <LevelShape level={row.level} /> {row.state}
                  </span>
                </a>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </nav>
  );
}
