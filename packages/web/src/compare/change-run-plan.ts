/** Changes to the run plan: pure, so that an edit can be laid on a document that has changed meanwhile. */
import { drawRunPlan } from '@soakbench/core/compare';
import { makeNoise } from '@soakbench/core/numerics';
import type { Build } from '@soakbench/core/records';

interface Draw {
  readonly needs: Readonly<Record<string, number>>;
  readonly perSession: number;
  /** Any whole number; brought into the generator's range. */
  readonly seed: number;
  readonly at: string;
}

const seeds = 2_147_483_646;

/** The build with a plan drawn; the same seed draws the same one again when the edit is laid anew. */
export function setRunPlan(build: Build, { needs, perSession, seed, at }: Draw): Build {
  const ownSeed = 1 + (seed % seeds);
  const takenSessions = build.runs.map(({ session }) => session);
  const known = Object.fromEntries(
    Object.entries(needs).filter(([setup]) => build.setups.some(({ id }) => id === setup)),
  );
  const runs = drawRunPlan({ needs: known, perSession, takenSessions }, makeNoise(ownSeed));
  if (runs.length === 0) return dropRunPlan(build);
  return { ...build, runPlan: { seed: ownSeed, drawnAt: at, before: build.runs.map(({ id }) => id), runs } };
}

export function dropRunPlan(build: Build): Build {
  const { runPlan: _, ...rest } = build;
  return rest;
}

export function beginPlannedRun(build: Build, index: number, at: string): Build {
  if (build.runPlan === undefined) return build;
  const runs = build.runPlan.runs.map((run, i) => (i === index ? { ...run, startedAt: at } : run));
  return { ...build, runPlan: { ...build.runPlan, runs } };
}

/** A set-up that is removed takes its planned runs with it. */
export function unplanSetup(build: Build, setup: string): Build {
  if (build.runPlan === undefined) return build;
  const runs = build.runPlan.runs.filter((run) => run.setup !== setup);
  return runs.length === 0 ? dropRunPlan(build) : { ...build, runPlan: { ...build.runPlan, runs } };
}
