import { formatCount } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { linesText } from '@soakbench/core/runs';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { closing, namesOf } from '../parts/words.js';
import type { Imported, Preparation } from './import.js';
import { tellRun } from './tell-run.js';

/** What was imported, or would be: first whether it was, then how the log was understood, then what it says. */
export function tellImport(
  page: Page,
  build: Build,
  preparation: Preparation,
  imported: Imported | null,
  dryRun: boolean,
): string[] {
  const { conclusions, openFaults, questions, report } = preparation;
  return [
    ...wrap(page, answerImport(build, preparation, imported, dryRun)),
    ...list(page, 'What the log says about itself', conclusions),
    ...questions.flatMap(({ question, options, chosen, answered, field }) => [
      ...heading(page, `${answered ? 'Answered' : 'Open'}: ${question}`),
      ...options.flatMap(({ label }, at) =>
        wrap(
          page,
          `${label}${at === chosen ? (answered ? ', as you said' : ', for now') : ''}`,
          `  --answer ${field}=${at + 1}  `,
        ),
      ),
    ]),
    ...list(
      page,
      'Before it can be imported',
      openFaults.map(({ where, what, remedy }) => `${where}: ${what} ${remedy}`),
    ),
    ...(imported?.result
      ? ['', ...tellRun(page, build, imported.result, null)]
      : [
          ...list(
            page,
            'How it would be read',
            report.conclusions.filter((line) => !conclusions.some((known) => known.startsWith(line))),
          ),
          ...list(
            page,
            'Rows without a reading',
            report.unread.map(
              ({ reason, count, lines }) =>
                `${formatCount(count, 'row')}: ${reason}, in ${linesText(lines, count)}`,
            ),
          ),
        ]),
    ...closing(page, build),
  ];
}

function answerImport(
  build: Build,
  { file, report, openFaults }: Preparation,
  imported: Imported | null,
  dryRun: boolean,
): string {
  const rows = formatCount(report.rows, 'row');
  if (imported === null) {
    return `${file} can be read, ${rows}, but not yet imported: ${formatCount(openFaults.length, 'answer')} missing. Dry run: nothing was changed.`;
  }
  const { run } = imported;
  const charging = run.conditions?.charging ? 'charging' : 'not charging';
  const what = `${run.id} (${namesOf(build).setup(run.setup)}, ${charging}), ${rows} kept in logs/${file}`;
  return dryRun ? `It would be imported as ${what}. Dry run: nothing was changed.` : `Imported as ${what}.`;
}
