import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { useEffect } from 'preact/hooks';
import { useBench } from '../api/bench.js';
import { useHeatAtHand } from '../heat/use-heat.js';
import type { LifeAnswer } from '../worker/life-worker.js';

/** The forecast of the build on the bench; null until the first one is done. */
export function useLife(build: Build, assessment: Assessment | null): LifeAnswer | null {
  const { life } = useBench();
  const heat = useHeatAtHand(build, assessment);
  // An edit of the build brings a new assessment; following the build too would work everything out twice.
  useEffect(() => {
    if (assessment !== null) life.follow(build, assessment, heat);
  }, [life, assessment, heat]);
  return life.answer.value;
}
