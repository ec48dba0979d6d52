import {
  type Contest,
  chanceOfCoolestWords,
  type Difference,
  noWorseWords,
  type PerWatt,
  perWattWords,
  presentContest,
  type Rank,
  resolutionWords,
  type SetupRise,
  sessionWords,
} from '../compare/index.js';
import { drawIntervals, type IntervalView } from '../drawing/index.js';
import { formatCount, formatEstimate, formatKelvin, formatNumber } from '../measure/index.js';
import { type DossierInput, runAnchor, setupName } from './dossier-input.js';
import { type Content, html, type Markup } from './markup.js';
import { writeDrawing, writeLevel, writeList, writeNote, writeSheet, writeTable } from './parts.js';
import { chanceWords, nothing, quantityWords, rangeWords, spreadWords, typedNumber } from './words.js';
import { writeSentence } from './write-opening.js';

/** Is the better shield really better? The contest that decides, then every other quantity that was measured. */
export function writeComparison(input: DossierInput): Markup {
  const { answer, condition, main, others, coolest, resolution, perWatt } = input.assessment.compare;
  const lead = html`<p class="lead">${writeSentence(answer)}</p><p class="lead small">${condition}</p>`;
  if (main === null) return lead;
  const views = presentContest(input.build, main, input.assessment.verdict.setup);
  const manySetups = main.setups.length > 2;
  const work = html`${lead}
<h3>Rises above the room</h3>
<p class="lead">Mean, ± u, 95 % interval; ticks beneath: single runs.</p>
${writeIntervals(views.rises)}${writeRises(input, main, coolest)}${perWatt !== null && writePerWatt(input, perWatt)}
${main.pairs.length > 0 && html`<h3>Differences, pair by pair</h3><p class="lead">${findingsWords(main.pairs)} The thin strokes hold for all pairs at once, with 95 %.</p>${writeIntervals(views.pairs)}${writeDifferences(input, 'Differences between all pairs', main.pairs, main.noWorse_K)}`}
${manySetups && main.toBaseline.length > 0 && html`<h3>Against ${setupName(input, main.baseline)} only</h3><p class="lead">${findingsWords(main.toBaseline)} Fewer questions are asked at once, so these intervals are narrower.</p>${writeIntervals(views.toBaseline)}${writeDifferences(input, `Differences to ${setupName(input, main.baseline)}`, main.toBaseline)}`}`;
  return html`${writeSheet(work, contestNotes(input, main, resolution), 'Spread, blocks and what could be told apart')}${writeOthers(input, [main, ...others])}`;
}

function writeIntervals(view: IntervalView): Markup {
  return html`<figure>${writeDrawing((width_px) => drawIntervals(view, width_px))}</figure>`;
}

function findingsWords(differences: readonly Difference[]): string {
  const count = (finding: Difference['finding']) =>
    differences.filter((each) => each.finding === finding).length;
  const open = count('no-verdict');
  if (open === differences.length)
    return 'No verdict on any difference: one run per set-up does not tell a shield from the way it was mounted.';
  return `${count('shown')} of ${formatCount(differences.length, 'difference')} shown${open > 0 ? `; no verdict on ${open}` : ''}.`;
}

function contestNotes(
  input: DossierInput,
  main: Contest,
  resolution: DossierInput['assessment']['compare']['resolution'],
): Markup[] {
  const sessions = sessionWords(main);
  const notes = [
    writeNote(main.runToRun.assumed ? 'Spread assumed' : 'Spread found', html`<p>${spreadWords(main)}</p>`),
    writeNote(
      'Could be told apart',
      html`<p>${main.canShow_K !== null ? html`<b>${formatKelvin(main.canShow_K, main.canShow_K / 10)}</b> for the typical pair with these runs. A smaller difference may be there and does not show.` : 'Nothing: one set-up has been run.'}</p>`,
    ),
    writeNote(
      'Blocks',
      html`<p>${main.blocks === 'session' ? `Sessions are allowed for: set-ups are compared within the same day and room wherever they shared one. ${sessions ?? ''}`.trim() : 'None: all runs are compared alike, whichever day they were made.'}</p>`,
    ),
    ...(main.setups.length > 1
      ? [
          writeNote(
            'Runs needed',
            html`<p>${resolutionWords(resolution, 1, (setup) => setupName(input, setup))}</p>`,
          ),
        ]
      : []),
  ];
  return main.notes.length === 0 ? notes : [...notes, writeNote('To bear in mind', writeList(main.notes))];
}

function writeRises(input: DossierInput, { setups }: Contest, ranks: readonly Rank[]): Markup {
  const coolest = (id: string) => {
    const rank = ranks.find((each) => each.setup === id);
    return rank === undefined ? nothing : chanceOfCoolestWords(rank);
  };
  return writeTable(
    'Rise above the room by set-up',
    '',
    [
      { title: 'set-up' },
      { title: 'mean rise', isFigure: true },
      { title: '95 %, K', isFigure: true },
      { title: 'chance to be the coolest', isFigure: true },
      { title: 'runs, K' },
    ],
    setups.map(({ setup, rise_K, interval95_K, runs }) => ({
      isPick: setup === input.assessment.verdict.setup,
      cells: [
        setupName(input, setup),
        formatEstimate(rise_K, 'K'),
        rangeWords(interval95_K),
        coolest(setup),
        runWords(runs),
      ],
    })),
  );
}

function writePerWatt(input: DossierInput, perWatt: PerWatt): Markup {
  const { setups, toBaseline } = perWatt.contest;
  return writeTable(
    'Rise per watt',
    `Differences to ${setupName(input, perWatt.contest.baseline)} with every run brought to ${typedNumber(perWatt.load_W)} W, the mean of the powers noted.`,
    [
      { title: 'set-up' },
      { title: 'rise', isFigure: true },
      { title: 'cooler by', isFigure: true },
      { title: 'finding' },
    ],
    setups.map(({ setup }) => {
      const against = toBaseline.find((each) => each.setup === setup);
      return {
        cells: [
          setupName(input, setup),
          perWattWords(perWatt, setup),
          against === undefined ? nothing : formatEstimate(against.cooler_K, 'K'),
          against === undefined
            ? 'baseline'
            : writeLevel(against.finding === 'shown' ? 'shown' : 'not-shown', findingWords[against.finding]),
        ],
      };
    }),
  );
}

function runWords(runs: SetupRise['runs']): Content {
  return runs.map(
    ({ run, rise_K, u_K }, index) =>
      html`${index > 0 && ', '}<a class="nb" href="#${runAnchor(run)}">${run}</a> <span class="nb">${formatEstimate({ value: rise_K, u: u_K }, '').trim()}</span>`,
  );
}

const findingWords: Readonly<Record<Difference['finding'], string>> = {
  shown: 'shown',
  'not-shown': 'not shown',
  'no-verdict': 'no verdict',
};

function byFinding(one: Difference, other: Difference): number {
  return Number(other.finding === 'shown') - Number(one.finding === 'shown');
}

function writeDifferences(
  input: DossierInput,
  about: string,
  differences: readonly Difference[],
  noWorse_K?: number,
): Markup {
  const claims = noWorse_K !== undefined && differences.some(({ finding }) => finding !== 'no-verdict');
  return writeTable(
    about,
    '',
    [
      { title: 'pair' },
      { title: 'cooler by', isFigure: true },
      { title: '95 % at once, K', isFigure: true },
      { title: 'p', isFigure: true },
      { title: 'finding' },
      ...(claims ? [{ title: `no worse by ${formatKelvin(noWorse_K, noWorse_K / 10)}` }] : []),
    ],
    // In the order of the drawing above it: what is shown first.
    differences.toSorted(byFinding).map((each) => {
      const { setup, other, cooler_K, simultaneous95_K, p, finding } = each;
      return {
        cells: [
          `${setupName(input, setup)} ${cooler_K.value < 0 ? 'against' : 'cooler than'} ${setupName(input, other)}`,
          formatEstimate(cooler_K, 'K'),
          rangeWords(simultaneous95_K),
          finding === 'no-verdict' ? 'none' : chanceWords(p),
          writeLevel(finding === 'shown' ? 'shown' : 'not-shown', findingWords[finding]),
          ...(claims ? [noWorseWords(each, (id) => setupName(input, id))] : []),
        ],
      };
    }),
  );
}

/** Mean rises of every quantity by set-up; a filled disc marks what is shown to differ from the baseline. */
function writeOthers(input: DossierInput, contests: readonly Contest[]): Markup {
  const setups = input.build.setups.filter(({ id }) =>
    contests.some((contest) => contest.setups.some(({ setup }) => setup === id)),
  );
  return html`<h3>Every probe, phase and charging state</h3>
${writeTable(
  'Mean rises of every measured quantity',
  'Mean rise above the room, K, and in brackets the number of runs. A disc: shown to differ from the baseline.',
  [
    { title: 'quantity' },
    ...setups.map(({ name }) => ({ title: name })),
    { title: 'spread, K', isFigure: true },
  ],
  contests.map((contest) => ({
    cells: [
      html`${quantityWords(input, contest.quantity)}`,
      ...setups.map(({ id }) => riseCell(contest, id)),
      `${formatNumber(contest.runToRun.sd_K, 2)}${contest.runToRun.assumed ? ', assumed' : ''}`,
    ],
  })),
)}`;
}

function riseCell(contest: Contest, setup: string): Content {
  const rise = contest.setups.find((each) => each.setup === setup);
  if (rise === undefined) return html`<span class="dim">not run</span>`;
  const isShown = contest.toBaseline.some((each) => each.setup === setup && each.finding === 'shown');
  const words = html`${formatEstimate(rise.rise_K, '').trim()} <small class="in">(${rise.runs.length})</small>`;
  return isShown ? writeLevel('shown', words) : html`<span class="nb">${words}</span>`;
}
