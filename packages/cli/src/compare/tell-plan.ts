import { type FollowedRun, plannedStateWords } from '@soakbench/core/compare';
import { formatCount, formatElapsed } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { heading, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { caution, closing, namesOf } from '../parts/words.js';

/** The plan as a sheet to work from: session by session, in the order drawn, with what is done. */
export function tellPlan(
  page: Page,
  build: Build,
  followed: readonly FollowedRun[],
  isChanged: boolean,
): string[] {
  if (followed.length === 0) {
    return [
      ...wrap(
        page,
        'There is no run plan. Draw one with --add SETUP=N for each set-up that needs more runs.',
      ),
      ...closing(page, build),
    ];
  }
  const { setup } = namesOf(build);
  const left = followed.filter(({ state }) => state !== 'done').length;
  const sessions = [...new Set(followed.map(({ session }) => session))];
  return [
    ...wrap(
      page,
      `${formatCount(followed.length, 'run')} in ${formatCount(sessions.length, 'session')}, ${left} still to make. Drawn by lot with seed ${build.runPlan?.seed ?? 0}${isChanged ? ', now in build.json' : ''}.`,
    ),
    ...sessions.flatMap((session) => [
      ...heading(page, `Session ${session}`),
      ...layTable(
        page,
        [{ title: 'due h:mm', right: true }, { title: 'set-up' }, { title: '' }, { title: 'run' }],
        followed
          .filter((run) => run.session === session)
          .map((run) => [
            `+${formatElapsed(run.after_s)}`,
            setup(run.setup),
            plannedStateWords[run.state],
            run.run ?? '',
          ]),
      ),
    ]),
    '',
    ...wrap(
      page,
      'Before every run: device off and unplugged, pack out and in again, shell closed. Same probes in the same places, same load.',
    ),
    ...closing(page, build),
    ...caution(page),
  ];
}
