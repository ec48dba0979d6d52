import type { Assessment } from '@soakbench/core/verdict';
import type { ComponentChildren } from 'preact';
import { type PageName, pageHref } from '../router.js';
import { keepTogether } from './answer.js';
import { LevelShape, levelWord } from './level.js';
import { type StageRow, stageRows } from './stage-rows.js';

interface StageLineProps {
  readonly build: string;
  readonly page: PageName;
  readonly assessment: Assessment | null;
  /** States worked out on their own pages. */
  readonly more?: Parameters<typeof stageRows>[1];
}

/** The way through the job, and the dashboard: each stage with its state. On a phone it folds to one row of shapes. */
export function StageLine({ build, page, assessment, more }: StageLineProps) {
  const rows = stageRows(assessment, more);
  const here = rows.find((row) => row.page === page);
  return (
    <nav aria-label="Stages">
      <ol class="stages">
        {rows.map((row) => (
          <li key={row.name} class={row.later ? 'later' : undefined}>
            <StagePlace row={row} build={build} page={page}>
              <span class="nm">{row.name}</span>
              <span class="state">
                <LevelShape level={row.level} />
                <StateWords row={row} />
              </span>
            </StagePlace>
          </li>
        ))}
      </ol>
      {/* A new page begins with the line folded. */}
      <details class="stagefold" key={page}>
        <summary>
          <span>
            <b>{here?.name ?? 'build'}</b> · {keepTogether(here?.words ?? 'device, pack, set-ups, limits')}
          </span>
          <span class="small">all stages ▾</span>
          <span class="row">
            {rows.map((row) => (
              <LevelShape key={row.name} level={row.level} class={row === here ? 'now' : ''} />
            ))}
          </span>
        </summary>
        <ol>
          {rows.map((row) => (
            <li key={row.name} class={row.later ? 'later' : undefined}>
              <StagePlace row={row} build={build} page={page}>
                <LevelShape level={row.level} />
                <span class="nm">{row.name}</span>
                <span class="state">
                  <StateWords row={row} />
                </span>
              </StagePlace>
            </li>
          ))}
        </ol>
      </details>
    </nav>
  );
}

function StateWords({ row }: { readonly row: StageRow }) {
  return (
    <>
      {row.page !== null && <span class="vh">{levelWord(row.level)}: </span>}
      {keepTogether(row.words)}
    </>
  );
}

interface StagePlaceProps {
  readonly row: StageRow;
  readonly build: string;
  readonly page: PageName;
  readonly children: ComponentChildren;
}

function StagePlace({ row, build, page, children }: StagePlaceProps) {
  if (row.page === null) return <span class="st">{children}</span>;
  return (
    <a
      href={pageHref(build, row.page)}
      aria-current={row.page === page ? 'page' : undefined}
      title={row.question}
    >
      {children}
    </a>
  );
}
