/** Changes to the run plan: pure, so that an edit can be laid on a document that has changed meanwhile. */
import { dropRunPlan, largestSeed, setRunPlan } from '@soakbench/core/compare';
import type { Build } from '@soakbench/core/records';

type Draw = Parameters<typeof setRunPlan>[1];

/** Draws a plan from any whole number; set-ups that have gone meanwhile are left out. The same number draws the same plan again. */
export function drawPlanFor(build: Build, draw: Draw): Build {
  const needs = Object.fromEntries(
    Object.entries(draw.needs).filter(([setup]) => build.setups.some(({ id }) => id === setup)),
  );
  return setRunPlan(build, { ...draw, needs, seed: 1 + (draw.seed % largestSeed) });
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
