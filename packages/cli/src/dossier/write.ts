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
    heat: {
      type: 'boolean',
      about: 'with the heat model: its field as pictures, its predictions and its error; takes some seconds',
    },
  },
  examples: [
    {
      command: 'npx soakbench dossier examples/reedling-r2 --out reedling-r2.html',
      shows: 'the report of the invented example, in the current folder',
    },
  ],
  async run({ FOLDER }, { out, heat }) {
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
    const model = heat
      ? await import('./model-heat.js').then(({ modelHeat }) => modelHeat(build, assessment))
      : undefined;
    if (model === null) return 130;
    const html = renderDossier(build, assessment, logOf, model);
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
