import type { Margin } from '../../compare/index.js';
import type { Estimate } from '../../measure/index.js';
import type { LeaveOneOut } from '../calibrate/leave-one-out.js';
import type { PredictedRise, Use } from '../calibrate/predict.js';
import type { Candidate } from './candidate.js';
import type { Lever } from './levers.js';
import type { QuickRises } from './read-rises.js';
import type { ExplorePlan } from './think-of.js';
import type { Room } from './wish.js';

/** A set-up thought of, with what the calibrated device shows for it. */
export interface RankedCandidate extends Candidate {
  readonly rises: QuickRises;
  /** True where no other is as good in everything and better in something. */
  readonly onFront: boolean;
  /** Its hottest place with its doubt: known of the front, null of all others, which are ranked without. */
  readonly hottest_K: Estimate | null;
}

/** A set-up with intervals: thought of, or measured and predicted all the same for comparison. */
export interface Finalist {
  readonly setup: string;
  readonly name: string;
  readonly measured: boolean;
  /** Why it is here: `coolest`, `thinnest`, `lightest`, `cheapest`, `best plate` and so on; empty for measured ones. */
  readonly because: readonly string[];
  readonly hottest_K: Estimate;
  readonly rises: readonly PredictedRise[];
  /** At the design ambient, predicted all through; empty where none is set. */
  readonly margins: readonly Margin[];
  /** How much cooler its hottest place is than that of the coolest measured set-up, both predicted, K; null for that one. */
  readonly cooler_K: Estimate | null;
  readonly interval95_K: readonly [number, number] | null;
}

/** Plates with strips against the same plates without. */
export interface StripsEffect {
  readonly pairs: number;
  readonly warmer: number;
  /** The pair that strips help most, and the one they harm most or help least: change of the hottest place, K, negative is cooler. */
  readonly best: StripsPair;
  readonly worst: StripsPair;
}
export interface StripsPair {
  readonly setup: string;
  readonly without: string;
  readonly change_K: number;
}

/** What a sweep has found. JSON all through. */
export interface Exploration {
  readonly use: Use;
  readonly room: Room;
  readonly leftOut: ExplorePlan['leftOut'];
  /** Coolest first. */
  readonly ranked: readonly RankedCandidate[];
  /** What the front is small in. */
  readonly objectives: readonly string[];
  readonly finalists: readonly Finalist[];
  /** The measured set-up that the model has coolest. */
  readonly reference: string | null;
  /** The set-up that the finding speaks of: the one most surely cooler than what was measured, else the coolest; null for none. */
  readonly best: string | null;
  /**
   * `worth-cutting`: something is cooler than every measured set-up by more than the doubt; `not-told-apart`: cooler, within the doubt;
   * `nothing-left`: nothing is cooler by more than what does not matter.
   */
  readonly finding: 'worth-cutting' | 'not-told-apart' | 'nothing-left';
  /** Differences below this do not matter, K. */
  readonly noWorse_K: number;
  readonly levers: { readonly setup: string; readonly all: readonly Lever[] };
  readonly strips: StripsEffect | null;
  readonly leaveOneOut: Pick<LeaveOneOut, 'cells_K' | 'all_K' | 'widening'> | null;
  readonly modelError: number;
  readonly cells: number;
  readonly notes: readonly string[];
}
