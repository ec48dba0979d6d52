import { formatCount } from '@soakbench/core/measure';
import { checkBuild } from '@soakbench/core/records';
import { readFolder } from '@soakbench/store';
import { defineAction, type ExitCode, jsonOption } from '../parts/action.js';
import { folderOperand } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { storeOption, storePath, withStore } from './store-file.js';

export const importBuild = defineAction({
  words: 'builds import',
  about:
    'Takes a build folder with its logs into a store, all of it or nothing. The folder stays as it is; later changes go to one of the two and not to the other.',
  operands: { FOLDER: folderOperand },
  options: {
    id: { type: 'string', value: 'ID', about: 'the id in the store, where that of the folder is taken' },
    store: storeOption,
    json: jsonOption,
  },
  examples: [
    {
      command: 'npx soakbench builds import examples/reedling-r2 --store try/bench.sqlite',
      shows: 'the invented example, in a store of its own',
    },
  ],
  async run({ FOLDER }, { id, store: file, json }): Promise<ExitCode> {
    const { build: read, logFiles, piecesOf } = readFolder(FOLDER);
    const build = id === undefined ? read : checkBuild({ ...read, id }, '--id');
    const logs = new Map(logFiles.map((name) => [name, piecesOf(name) ?? new Uint8Array()]));
    const { revision } = await withStore(file, true, (store) => store.addBuild(build, logs));
    const summary = {
      id: build.id,
      name: build.name,
      invented: build.invented === true,
      revision,
      runs: build.runs.length,
    };
    if (json) sayJson(summary);
    else {
      const invented = build.invented ? ' (invented example)' : '';
      say(
        wrap(
          answerPage(),
          `Imported ${build.name}${invented} as ${build.id}: ${formatCount(build.runs.length, 'run')}, in ${storePath(file)}.`,
        ),
      );
    }
    return 0;
  },
});
