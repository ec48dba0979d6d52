import {
  type Exploration,
  ExploreJob,
  type ExploreWish,
  type HeatInputs,
  type NoHeat,
  planExploration,
  tellExploration,
} from '@soakbench/core/heat';
import { plainText, type Result } from '@soakbench/core/measure';
import type { Setup } from '@soakbench/core/records';
import { heatInputs } from '@soakbench/core/verdict';
import { defineAction, jsonOption } from '../parts/action.js';
import { jsonVersion } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, note, notePage, say, sayJson } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { readState, writeState } from './keep-state.js';
import { readWish } from './read-wish.js';
import { reportNoHeat } from './report-no-heat.js';
import { tellSweep } from './tell-sweep.js';
import { countThreads, stoppedCode, type Threads, withThreads } from './threads.js';

export const exploreHeat = defineAction({
  words: 'heat explore',
  about:
    'Which set-up, of all that can be made of the materials at hand within the room there is, would keep the pack coolest: computes them with the calibrated heat model over all cores, and tells the best with intervals beside the measured ones, the front of hottest place, mean, zone, thickness, mass and price, what matters most, and whether anything is worth cutting at all. Ctrl-C stops it at once; with --keep it goes on from there.',
  operands: { FOLDER: folderOperand },
  options: {
    'budget-mm': {
      type: 'string',
      value: 'MM',
      about: 'room for the layers; without it, what the bay leaves beside the reserve',
    },
    'reserve-mm': {
      type: 'string',
      value: 'MM',
      about: 'kept free for the pack to swell into; without it, 5 % of its thickness',
    },
    material: {
      type: 'string',
      multiple: true,
      value: 'ID=MM,MM',
      about: 'a material at hand and its sheets, in place of the usual ones',
    },
    price: {
      type: 'string',
      multiple: true,
      value: 'ID=N',
      about: 'for a square metre of a material, in any money; what has none is told without a price',
    },
    family: {
      type: 'string',
      multiple: true,
      value: 'KIND',
      about: 'bare, film, foam, graphite, plate, plate-graphite or strips, in place of all of them',
    },
    'most-mass-g': { type: 'string', value: 'G', about: 'most that all layers may weigh' },
    'most-price': { type: 'string', value: 'N', about: 'most that all layers may cost' },
    most: { type: 'string', value: 'N', about: 'most set-ups that are computed; 400 where it is not named' },
    charging: { type: 'boolean', about: 'while the pack is charged' },
    'load-W': { type: 'string', value: 'W', about: 'another load than that of the runs' },
    keep: {
      type: 'string',
      value: 'FILE',
      about: 'where to keep what is done, and to go on from; taken only for the same build and wish',
    },
    json: jsonOption,
  },
  examples: [
    {
      command: 'npx soakbench heat explore examples/reedling-r2 --budget-mm 1 --most 60',
      shows: 'sixty set-ups of up to 1 mm for the invented example, and whether any is worth cutting',
    },
  ],
  async run({ FOLDER }, options) {
    const wish = readWish(options);
    const { build, assessment } = openFolder(FOLDER);
    const { candidates } = planExploration(build, wish);
    const sweep = new Sweep(heatInputs(build, assessment), wish, candidates, options.keep);
    const explored = await withThreads(
      (threads) => sweep.run(threads),
      () => sweep.keep(),
    );
    if (explored === null) {
      note(wrap(notePage(), sweep.stoppedWords()));
      return stoppedCode;
    }
    if (!explored.ok) return reportNoHeat(explored.reason, options.json);
    if (options.json)
      sayJson({
        format: 'soakbench-exploration',
        version: jsonVersion,
        build: { id: build.id, name: build.name, invented: build.invented === true },
        answer: plainText(tellExploration(explored.value)),
        ...explored.value,
      });
    else say(tellSweep(answerPage(), build, explored.value));
    return reportLeftOut(assessment, 0);
  },
});

/** How often what is done is written down, ms. */
const keepEvery_ms = 2000;
/** Shares of the whole that the first and the last part mostly take; for progress only. */
const calibrating = 0.3;
const concluding = 0.2;

/** One sweep: calibrated in one thread, computed in all, concluded in the first. */
class Sweep {
  private job: ExploreJob | undefined;
  private kept_ms = 0;
  private readonly inputs: HeatInputs;
  private readonly wish: ExploreWish;
  private readonly candidates: ReturnType<typeof planExploration>['candidates'];
  private readonly file: string | undefined;

  constructor(
    inputs: HeatInputs,
    wish: ExploreWish,
    candidates: ReturnType<typeof planExploration>['candidates'],
    file: string | undefined,
  ) {
    this.inputs = inputs;
    this.wish = wish;
    this.candidates = candidates;
    this.file = file;
  }

  async run({ start, tell }: Threads): Promise<Result<Exploration, NoHeat>> {
    const { inputs, wish } = this;
    const state = this.file === undefined ? undefined : readState(this.file);
    const first = start();
    const basis = await first.do({ kind: 'calibrate', inputs, wish }, (share, doing) =>
      tell(calibrating * share, doing),
    );
    if (!basis.ok) return basis;
    const job = new ExploreJob(basis.value, this.candidates, state);
    this.job = job;
    const open = job.left;
    const threads = [first];
    while (threads.length < countThreads(open.length)) threads.push(start());
    let refused: Result<never, NoHeat> | null = null;
    await Promise.all(
      threads.map(async (thread) => {
        for (let at = open.shift(); at !== undefined && refused === null; at = open.shift()) {
          const ranked = await thread.do({
            kind: 'rank',
            basis: basis.value,
            setups: job.chunks[at] as readonly Setup[],
          });
          if (!ranked.ok) {
            refused = ranked;
            return;
          }
          job.keep(ranked.value);
          if (Date.now() - this.kept_ms > keepEvery_ms) this.keep();
          tell(
            calibrating + (1 - calibrating - concluding) * job.share,
            `${job.ranked.length} of ${this.candidates.length} set-ups`,
          );
        }
      }),
    );
    this.keep();
    if (refused !== null) return refused;
    return first.do({ kind: 'conclude', wish, ranked: job.ranked }, (share, doing) =>
      tell(1 - concluding + concluding * share, doing),
    );
  }

  keep(): void {
    if (this.file === undefined || this.job === undefined) return;
    writeState(this.file, this.job.state);
    this.kept_ms = Date.now();
  }

  stoppedWords(): string {
    const done = this.job?.ranked.length ?? 0;
    if (this.file === undefined)
      return `Stopped after ${done} of ${this.candidates.length} set-ups. Nothing is kept; with --keep FILE it would go on from there.`;
    return `Stopped after ${done} of ${this.candidates.length} set-ups${done > 0 ? `, kept in ${this.file}` : ''}. The same command goes on from there.`;
  }
}
