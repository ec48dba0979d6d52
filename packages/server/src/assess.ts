import { type Assessment, assessBuild } from '@soakbench/core/verdict';
import { type Store, type Stored, UnknownBuildError } from '@soakbench/store';
import { BoundedMap } from './bounded-map.js';

/** How many intermediate results are kept. One run gives a handful of them, the largest a few megabytes. */
const keptResults = 400;

/** A build together with everything that is computed from it. @throws UnknownBuildError */
export type Assess = (id: string) => { readonly stored: Stored; readonly assessment: Assessment };

/**
 * Makes the one place where the server has builds assessed. Results are kept for the next route that asks, whether it is
 * the same revision (whole) or a later one (the parts that did not change).
 */
export function makeAssess(store: Store): Assess {
  const memo = new BoundedMap<string, unknown>(keptResults);
  return (id) => {
    const stored = store.build(id);
    if (!stored) throw new UnknownBuildError(id);
    const key = `assessment of ${id} at revision ${stored.revision}`;
    let assessment = memo.get(key) as Assessment | undefined;
    if (!assessment) {
      assessment = assessBuild(stored.build, (file) => store.log(id, file), memo);
      memo.set(key, assessment);
    }
    return { stored, assessment };
  };
}
