import { type HeatAssessment, hasHeatData } from '@soakbench/core/heat';
import type { Build } from '@soakbench/core/records';
import { type Assessment, heatInputs } from '@soakbench/core/verdict';
import { useEffect, useMemo } from 'preact/hooks';
import { deskFor, openDesk } from './desk-for.js';

/** What is known of set-ups that nobody soaked: nothing to ask, being worked out, no model to be had, or the model's word. */
export type UntriedFace =
  | { readonly face: 'none' | 'working' | 'stopped' | 'failed'; readonly heat: null }
  | { readonly face: 'ready'; readonly heat: HeatAssessment };

/** Set-ups that are described and were never soaked. */
export function untriedOf(build: Build, { compare: { main } }: Assessment): readonly string[] {
  return main === null
    ? []
    : build.setups.flatMap(({ id }) => (main.setups.some(({ setup }) => setup === id) ? [] : [id]));
}

/** The heat model of a build where some page has asked for it; the same object until it changes. Asks for nothing itself. */
export function useHeatAtHand(build: Build, assessment: Assessment | null): HeatAssessment | null {
  const desk = openDesk(build.id);
  const face = desk?.face.value;
  const further = desk?.further.value;
  return useMemo(() => {
    if (!desk || assessment === null || untriedOf(build, assessment).length === 0) return null;
    return desk.assessmentOf(build);
  }, [desk, face, further, build, assessment]);
}

/** Has the set-ups nobody soaked predicted, where there are such and runs that a model can be held to. */
export function useUntried(build: Build, assessment: Assessment | null): UntriedFace {
  const heat = useHeatAtHand(build, assessment);
  const job = useMemo(() => {
    if (assessment === null || untriedOf(build, assessment).length === 0) return null;
    const inputs = heatInputs(build, assessment);
    return hasHeatData(build, inputs.contests, inputs.corrections) ? inputs : null;
  }, [build, assessment]);
  useEffect(() => {
    if (job === null) return;
    const desk = deskFor(build.id);
    desk.follow(job);
    desk.predictFurther(build.setups);
  }, [job, build]);
  if (job === null) return { face: 'none', heat: null };
  if (heat !== null) return { face: 'ready', heat };
  const face = openDesk(build.id)?.face.value.face;
  return { face: face === 'failed' || face === 'stopped' ? face : 'working', heat: null };
}
