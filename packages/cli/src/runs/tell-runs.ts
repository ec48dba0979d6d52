import { formatDuration, formatEstimate } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { RunResult } from '@soakbench/core/runs';
import type { Assessment } from '@soakbench/core/verdict';
import { heading, type Page, wrap } from '../parts/page.js';
import { type Cell, layTable } from '../parts/table.js';
import { closing, namesOf, opening } from '../parts/words.js';
import { flagLines } from './tell-run.js';

/** All runs: one line each, then every flag with what it does to the result. */
export function tellRuns(page: Page, build: Build, { runs, compare }: Assessment): string[] {
  const probe = compare.main?.quantity.probe ?? build.probes.find(({ place }) => place === 'cell')?.id;
  const flagged = runs.runs.filter(({ flags }) => flags.length > 0);
  return [
    ...opening(page, runs.answer, runs.condition),
    ...(runs.runs.length === 0 ? [] : layLedger(page, build, runs.runs, probe)),
    ...(flagged.length === 0 ? [] : heading(page, 'Flags')),
    ...flagged.flatMap((run) => [`  ${run.run}`, ...flagLines(page, run)]),
    ...closing(page, build),
  ];
}

function layLedger(
  page: Page,
  build: Build,
  runs: readonly RunResult[],
  probe: string | undefined,
): string[] {
  const { setup, probe: probeName } = namesOf(build);
  return [
    ...heading(page, 'Runs'),
    ...layTable(
      page,
      [
        { title: 'run' },
        { title: 'set-up' },
        { title: 'session' },
        { title: 'began, UTC' },
        { title: 'lasted', right: true },
        { title: 'rise K', right: true },
        { title: '' },
      ],
      runs.map((run): Cell[] => [
        run.run,
        setup(run.setup) + (run.charging ? ', charging' : ''),
        run.session,
        run.startedAt === null ? '' : run.startedAt.slice(0, 16).replace('T', ' '),
        formatDuration(run.span_s),
        riseText(run, probe),
        run.counted ? { text: '● counted', look: 'holds' } : { text: '■ not counted', look: 'stop' },
      ]),
    ),
    ...wrap(
      page,
      `Rise: ${probe === undefined ? 'at a cell' : `at ${probeName(probe)}`} above the room, settled under load; its doubt is that within the run.`,
      '  ',
    ),
  ];
}

function riseText(run: RunResult, probe: string | undefined): string {
  const plateau = run.plateaus.find((each) => each.probe === probe && each.phase === 'load');
  if (plateau === undefined) return '';
  return plateau.result.ok ? formatEstimate(plateau.result.value.rise_K, '').trimEnd() : 'none';
}
