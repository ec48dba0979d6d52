import { makeNoise } from '../numerics/index.js';
import type { Build } from '../records/index.js';
import { drawRunPlan, type PlanRequest } from './draw-run-plan.js';

/** Largest seed the generator takes; the smallest is 1. */
export const largestSeed = 2_147_483_646;

interface Draw extends Pick<PlanRequest, 'needs' | 'perSession'> {
  /** 1 to `largestSeed`. */
  readonly seed: number;
  /** When it was drawn, ISO 8601. */
  readonly at: string;
}

/** The build with a plan drawn, in place of one that was there; without one where no run is needed. */
export function setRunPlan(build: Build, { needs, perSession, seed, at }: Draw): Build {
  const takenSessions = build.runs.map(({ session }) => session);
  const runs = drawRunPlan({ needs, perSession, takenSessions }, makeNoise(seed));
  if (runs.length === 0) return dropRunPlan(build);
  return { ...build, runPlan: { seed, drawnAt: at, before: build.runs.map(({ id }) => id), runs } };
}

export function dropRunPlan(build: Build): Build {
  const { runPlan: _, ...rest } = build;
  return rest;
}
