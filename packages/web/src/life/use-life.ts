import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { useEffect } from 'preact/hooks';
import { useBench } from '../api/bench.js';
import type { LifeAnswer } from '../worker/life-worker.js';

/** The forecast of the build on the bench; null until the first one is done. */
export function useLife(build: Build, assessment: Assessment | null): LifeAnswer | null {
  const { life } = useBench();
  // An edit of the build brings a new assessment; following the build too would work everything out twice.
  useEffect(() => {
    if (assessment !== null) life.follow(build, assessment);
  }, [life, assessment]);
  return life.answer.value;
}
