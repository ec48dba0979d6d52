import type { Contest, Margin, PerWatt, Rank, Resolution } from '../compare/index.js';
import type { LifeBracket } from '../life/index.js';
import type { Sentence } from '../measure/index.js';
import type {
  BathReadings,
  Correction,
  Drift,
  ProbeBudget,
  ReadingLeft,
  SensorReport,
} from '../probes/index.js';
import type { RunResult } from '../runs/index.js';
import type { StageName } from '../stages.js';

/** What the navigation shows of a stage: two or three words and a level. */
export interface StageState {
  readonly stage: StageName;
  readonly level: 'holds' | 'look' | 'stop' | 'none';
  readonly words: string;
  /** False where this version does not carry the stage out. */
  readonly built: boolean;
}

export interface NextStep {
  readonly title: string;
  readonly detail: string;
  /** Hours at the bench, where it can be said. */
  readonly takes_h: number | null;
  readonly stage: StageName;
}

export interface Verdict {
  /** The set-up to fit; null where the measurements do not carry a choice. */
  readonly setup: string | null;
  readonly answer: Sentence;
  readonly condition: string;
  /** Margins of the set-up the answer speaks of. */
  readonly margins: readonly Margin[];
  readonly restsOn: readonly string[];
  readonly unresolved: readonly string[];
  readonly missing: readonly string[];
  /** Cheapest first. */
  readonly next: readonly NextStep[];
  /** 0 every judged limit holds, 1 a limit fails or nothing could be judged. */
  readonly exitCode: 0 | 1;
}

/** Everything Soakbench computes from a build and its logs. JSON all through. */
export interface Assessment {
  readonly probes: ProbesResult;
  readonly runs: RunsResult;
  readonly compare: CompareResult;
  readonly life: LifeBracket | null;
  readonly verdict: Verdict;
  readonly stages: readonly StageState[];
}

export interface ProbesResult {
  readonly answer: Sentence;
  readonly condition: string;
  readonly corrections: readonly Correction[];
  /** One row per reading of a check: reading, reference, what is left after the correction. */
  readonly points: readonly ReadingLeft[];
  /** The same, the readings of one probe in one bath together: how many, their mean and their scatter. */
  readonly baths: readonly BathReadings[];
  /** Where each probe's doubt comes from, at a temperature where it matters. */
  readonly budget: readonly ProbeBudget[];
  /** Each probe's way from check to check, at that temperature. */
  readonly drifts: readonly Drift[];
  /** What each probe is made of, and what its uncertainty stands on. */
  readonly sensors: readonly SensorReport[];
  readonly notes: readonly string[];
}

export interface RunsResult {
  readonly answer: Sentence;
  readonly condition: string;
  readonly runs: readonly RunResult[];
  /** Runs whose log could not be read, with the reason. */
  readonly unreadable: readonly { readonly run: string; readonly reason: string }[];
}

export interface CompareResult {
  readonly answer: Sentence;
  readonly condition: string;
  /** The contest that decides: the hottest cell probe under load, not charging. Null without counted runs. */
  readonly main: Contest | null;
  /** The same for every other probe, phase and charging state that was measured. */
  readonly others: readonly Contest[];
  /** How likely each set-up is to be the coolest in the contest that decides, the likeliest first; empty without findings. */
  readonly coolest: readonly Rank[];
  /** Runs that resolve 1 K in that contest; null where none would, or nothing is compared. */
  readonly resolution: Resolution | null;
  /** The contest that decides with every rise at one power; null unless all its runs have theirs noted. */
  readonly perWatt: PerWatt | null;
  readonly margins: readonly Margin[];
}
