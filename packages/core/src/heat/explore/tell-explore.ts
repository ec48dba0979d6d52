import { formatEstimate, formatKelvin, formatNumber, type Sentence } from '../../measure/index.js';
import type { Exploration, Finalist, RankedCandidate } from './exploration.js';
import type { Lever } from './levers.js';

/** The answer to a sweep: whether anything is worth cutting, and what it would gain. Predicted all through, and said so. */
export function tellExploration(exploration: Exploration): Sentence {
  const { finding, finalists, reference, noWorse_K, ranked } = exploration;
  const best = finalists.find(({ setup }) => setup === exploration.best);
  const measured = finalists.find(({ setup }) => setup === reference);
  if (best === undefined) return ['No set-up that fits these limits could be thought of.'];
  if (measured === undefined || best.cooler_K === null)
    return [
      `Of ${ranked.length} set-ups, the model has ${best.name} coolest: `,
      riseFigure(best, exploration),
      ' at the hottest place of the pack, predicted and not measured.',
    ];
  if (finding === 'nothing-left')
    return [
      `Nothing worth cutting remains: the coolest of ${ranked.length} set-ups, ${best.name}, would run the pack’s hottest place `,
      gainFigure(best, exploration),
      ` ${best.cooler_K.value >= 0 ? 'cooler' : 'warmer'} than ${measured.name}, which was measured; less than ${formatKelvin(noWorse_K, noWorse_K / 10)} cooler does not matter here.`,
    ];
  if (finding === 'not-told-apart')
    return [
      `Predicted, not measured: ${best.name} would run the pack’s hottest place `,
      gainFigure(best, exploration),
      ` cooler than ${measured.name}, which is within what the model can be wrong by: nothing untried is shown to be worth cutting.${tellZones(best, measured)}`,
    ];
  return [
    `Predicted, not measured: ${best.name} would run the pack’s hottest place `,
    gainFigure(best, exploration),
    ` cooler than ${measured.name}. Cut one, and soak it before you believe it.${tellZones(best, measured)}`,
  ];
}

/** What keeps heat from the pack mostly keeps it in the zones: worth a word where the hottest of them would run warmer. */
function tellZones(best: Finalist, measured: Finalist): string {
  const hottest_K = ({ rises }: Finalist) =>
    Math.max(
      0,
      ...rises.flatMap(({ target, rise_K }) => (target.id.startsWith('zone:') ? [rise_K.value] : [])),
    );
  const warmer_K = hottest_K(best) - hottest_K(measured);
  return warmer_K < leastWorth_K
    ? ''
    : ` The hottest zone would run ${formatKelvin(warmer_K, warmer_K / 10)} warmer.`;
}

/** @assumed common practice, no source: less than this of a zone is nobody's worry */
const leastWorth_K = 0.5;

/** How good the model is at what it was not shown, in a sentence that stands beside every prediction. */
export function tellModelError({
  leaveOneOut,
}: {
  readonly leaveOneOut: { readonly cells_K: number | null } | null;
}): string {
  return leaveOneOut?.cells_K == null
    ? 'The model could not be tested on a set-up it was not shown: one set-up alone was soaked. Its intervals are guesses.'
    : `Each measured set-up, left out in turn and predicted from the others, came out ${formatKelvin(leaveOneOut.cells_K, leaveOneOut.cells_K / 10)} off at the cells (root mean square).`;
}

/** What matters most, in words: power and films against the strongest thing that can be cut. */
export function tellLevers({ levers, noWorse_K }: Pick<Exploration, 'levers' | 'noWorse_K'>): string[] {
  const strongest = (kinds: readonly Lever['kind'][]) => levers.all.find(({ kind }) => kinds.includes(kind));
  const outer = [strongest(['power']), strongest(['film'])].flatMap((lever) => lever ?? []);
  const cut = strongest(['thickness']);
  if (outer.length === 0) return [];
  const words = outer.map(({ name, change, hottest_K }) => `${name}, ${change}: ${signed(hottest_K)}`);
  const most = Math.max(...outer.map(({ hottest_K }) => Math.abs(hottest_K)));
  const sentences = [`At the pack’s hottest place: ${words.join('; ')}.`];
  if (cut !== undefined) {
    const effect = Math.abs(cut.hottest_K);
    sentences.push(
      `The strongest layer is the ${cut.name.replace('thickness of the ', '')}, ${cut.change}: ${signed(cut.hottest_K)}.`,
    );
    if (effect < most && effect < noWorse_K)
      sentences.push('Power and the outer faces decide more here than another tenth of a millimetre would.');
  }
  return sentences;
}

/** What strips do in this device; null where no pair of plates with and without was computed. */
export function tellStrips({ strips, ranked }: Pick<Exploration, 'strips' | 'ranked'>): string | null {
  if (strips === null) return null;
  const name = (id: string) => ranked.find(({ setup }) => setup.id === id)?.setup.name ?? id;
  const { pairs, warmer, best, worst } = strips;
  if (pairs === 1)
    return `Strips under the plate: ${signed(best.change_K)} than the same plate without them, in the one pair that was computed (${name(best.setup)}).`;
  const head =
    warmer === 0
      ? `Strips under the plate help in all ${pairs} pairs that were computed`
      : warmer === pairs
        ? `Strips under the plate undo some of what it gains in all ${pairs} pairs that were computed`
        : `Strips under the plate make the pack warmer in ${warmer} of ${pairs} pairs that were computed`;
  return `${head}: from ${signed(best.change_K)} (${name(best.setup)}) to ${signed(worst.change_K)} (${name(worst.setup)}), against the same plate without them.`;
}

/** How many were thought of, and what became of the others. */
export function tellCounts({
  ranked,
  leftOut,
  room,
}: Pick<Exploration, 'ranked' | 'leftOut' | 'room'>): string {
  const parts = [
    leftOut.tooThick > 0 ? `${leftOut.tooThick} too thick` : '',
    leftOut.tooHeavy > 0 ? `${leftOut.tooHeavy} too heavy` : '',
    leftOut.tooDear > 0 ? `${leftOut.tooDear} too dear` : '',
    leftOut.sampledOut > 0 ? `${leftOut.sampledOut} passed over, evenly, to keep the number down` : '',
  ].filter((part) => part !== '');
  return `${ranked.length} set-ups of up to ${formatNumber(room.budget_mm, 2)} mm computed, with ${formatNumber(room.free_mm - room.budget_mm, 2)} mm left for the pack to swell${parts.length > 0 ? `; ${parts.join(', ')}` : ''}.`;
}

/** The front in the order of coolness, thinned out evenly to so many rows. */
export function shortFront(ranked: readonly RankedCandidate[], most: number): RankedCandidate[] {
  const front = ranked.filter(({ onFront }) => onFront);
  if (front.length <= most) return front;
  return Array.from(
    { length: most },
    (_, at) => front[Math.round((at * (front.length - 1)) / (most - 1))] as RankedCandidate,
  );
}

function gainFigure({ cooler_K, interval95_K }: Finalist, { leaveOneOut }: Exploration) {
  const { value, u } = cooler_K ?? { value: 0, u: 0 };
  const [low, high] = interval95_K ?? [value, value];
  return {
    figure: formatEstimate({ value: Math.abs(value), u }, 'K'),
    why: `Cooler by ${formatNumber(low)} to ${formatNumber(high)} K, 95 %. ${tellModelError({ leaveOneOut })}`,
  };
}

function riseFigure({ hottest_K }: Finalist, { leaveOneOut }: Exploration) {
  return { figure: `${formatEstimate(hottest_K, 'K')} above the room`, why: tellModelError({ leaveOneOut }) };
}

function signed(change_K: number): string {
  const size = Math.abs(change_K);
  return `${formatKelvin(size, size / 10)} ${change_K > 0 ? 'warmer' : 'cooler'}`;
}
