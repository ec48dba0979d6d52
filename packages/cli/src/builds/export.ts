import { BadInputError, formatCount } from '@soakbench/core/measure';
import type { LogPieces } from '@soakbench/core/runs';
import { type Store, type StoredLog, writeFolder } from '@soakbench/store';
import { defineAction, type ExitCode, jsonOption } from '../parts/action.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { storeOption, withStore } from './store-file.js';

export const exportBuild = defineAction({
  words: 'builds export',
  about:
    'Writes a build of a store as a folder, with every log as it came. The folder appears complete or not at all, and must be empty or not there.',
  operands: { ID: { about: 'the id of the build, see builds list' } },
  options: {
    out: { type: 'string', required: true, value: 'FOLDER', about: 'the folder to write' },
    store: storeOption,
    json: jsonOption,
  },
  examples: [
    {
      command:
        'npx soakbench builds import examples/reedling-r2 --store try/bench.sqlite && npx soakbench builds export reedling-r2 --out my-reedling --store try/bench.sqlite',
      shows: 'the invented example into a store and out of it again',
    },
  ],
  async run({ ID }, { out, store: file, json }): Promise<ExitCode> {
    if (out === undefined) {
      throw new BadInputError([
        { where: '--out', what: 'It is not said where to write the folder.', remedy: 'Write --out FOLDER.' },
      ]);
    }
    const exported = await withStore(file, false, (store) => {
      const stored = store.build(ID);
      if (stored === undefined)
        throw unknownBuild(
          ID,
          store.builds().map(({ id }) => id),
        );
      const logs = new Map(store.logs(ID).map((log) => [log.file, fetchLater(store, ID, log)]));
      writeFolder(out, stored.build, logs);
      return { build: stored.build, logs: logs.size };
    });
    const { build, logs } = exported;
    if (json)
      sayJson({
        id: build.id,
        name: build.name,
        invented: build.invented === true,
        folder: out,
        runs: build.runs.length,
        logs,
      });
    else {
      const invented = build.invented ? ' (invented example)' : '';
      say(
        wrap(
          answerPage(),
          `Wrote ${out}: ${build.name}${invented}, ${formatCount(build.runs.length, 'run')}, ${formatCount(logs, 'log')}.`,
        ),
      );
    }
    return 0;
  },
});

/** A log that is taken out of the store when its turn comes, so that they need not all be in memory. */
function fetchLater(store: Store, id: string, { file, size }: StoredLog): LogPieces {
  return {
    size_bytes: size,
    *[Symbol.iterator]() {
      yield store.log(id, file) ?? new Uint8Array();
    },
  };
}

function unknownBuild(id: string, ids: readonly string[]): BadInputError {
  return new BadInputError([
    {
      where: 'ID',
      what: `There is no build "${id}" in the store.`,
      remedy:
        ids.length > 0
          ? `Use one of: ${ids.join(', ')}.`
          : 'Import one first: npx soakbench builds import --help',
    },
  ]);
}
