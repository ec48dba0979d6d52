import { formatCount } from '@soakbench/core/measure';
import { defineAction, type ExitCode, jsonOption } from '../parts/action.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { layTable } from '../parts/table.js';
import { storeOption, storePath, withStore } from './store-file.js';

export const listBuilds = defineAction({
  words: 'builds list',
  about: 'Lists the builds that a store holds, the latest change first.',
  operands: {},
  options: { store: storeOption, json: jsonOption },
  examples: [
    {
      command:
        'npx soakbench builds import examples/reedling-r2 --store try/bench.sqlite && npx soakbench builds list --store try/bench.sqlite',
      shows: 'a store with the invented example in it',
    },
  ],
  async run(_operands, { store: file, json }): Promise<ExitCode> {
    const builds = await withStore(file, false, (store) => store.builds());
    if (json) {
      sayJson(builds);
      return 0;
    }
    say([
      `${formatCount(builds.length, 'build')} in ${storePath(file)}`,
      ...(builds.length === 0
        ? []
        : [
            '',
            ...layTable(
              answerPage(),
              [
                { title: 'build' },
                { title: 'name' },
                { title: 'runs', right: true },
                { title: 'changed, UTC' },
                { title: '' },
              ],
              builds.map(({ id, name, runs, updatedAt, invented, isReadable }) => [
                id,
                name,
                isReadable ? String(runs) : '–',
                updatedAt.slice(0, 16).replace('T', ' '),
                isReadable ? (invented ? 'invented example' : '') : 'cannot be read',
              ]),
            ),
          ]),
    ]);
    return 0;
  },
});
