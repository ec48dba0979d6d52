import { renderDossier } from '@soakbench/core/dossier';
import { BadInputError, formatNumber } from '@soakbench/core/measure';
import { defineAction } from '../parts/action.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { replaceFile } from './replace-file.js';

export const writeDossier = defineAction({
  words: 'dossier',
  about:
    'Writes the report of a build: one HTML file with every drawing inside, that opens in any browser and prints on A4 and Letter. The file is complete or not there; an earlier dossier of that name is replaced.',
  operands: { FOLDER: folderOperand },
  options: {
    out: {
      type: 'string',
      required: true,
      value: 'FILE.html',
      about: 'where to write it; - writes it to standard output',
    },
  },
  examples: [
    {
      command: 'npx soakbench dossier examples/reedling-r2 --out reedling-r2.html',
      shows: 'the report of the invented example, in the current folder',
    },
  ],
  run({ FOLDER }, { out }) {
    // The ending is asked for, so that a slip of the hand cannot replace a log or a build.json.
    if (out === undefined || !(out === '-' || /\.html?$/i.test(out))) {
      throw new BadInputError([
        {
          where: '--out',
          what:
            out === undefined
              ? 'It is not said where to write the dossier.'
              : `"${out}" does not end in .html.`,
          remedy: 'Write --out FILE.html, or --out - for standard output.',
        },
      ]);
    }
    const { build, assessment, logOf } = openFolder(FOLDER);
    const html = renderDossier(build, assessment, logOf);
    if (out === '-') process.stdout.write(html);
    else {
      replaceFile(out, html);
      const invented = build.invented ? ' (invented example)' : '';
      const size_kB = formatNumber(Buffer.byteLength(html) / 1000, 0);
      say(
        wrap(
          answerPage(),
          `Wrote ${out}: the dossier of ${build.name}${invented}, ${size_kB} kB. It needs no other file.`,
        ),
      );
    }
    return reportLeftOut(assessment, 0);
  },
});
