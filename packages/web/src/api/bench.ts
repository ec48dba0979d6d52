import { effect } from '@preact/signals';
import type { Fault } from '@soakbench/core/measure';
import type { Run } from '@soakbench/core/records';
import type { RunSeries } from '@soakbench/core/runs';
import { createContext } from 'preact';
import { useContext, useEffect, useState } from 'preact/hooks';
import { Assessor } from '../worker/assessor.js';
import { LifeDesk } from '../worker/life-desk.js';
import { api } from './client.js';
import { browserDrafts } from './drafts.js';
import { faultsOf } from './faults.js';
import { OpenBuild } from './open-build.js';

/** A build on the bench: the document with its edits, and what is computed from it. */
export class Bench {
  readonly open: OpenBuild;
  readonly assessor: Assessor;
  readonly life = new LifeDesk();
  readonly #stop: () => void;

  constructor(id: string) {
    this.open = new OpenBuild(id, api, browserDrafts);
    this.assessor = new Assessor((file) => api.log(id, file));
    this.#stop = effect(() => {
      const build = this.open.build.value;
      if (build !== null) this.assessor.follow(build);
    });
  }

  close(): void {
    this.#stop();
    this.open.close();
    this.assessor.close();
    this.life.close();
  }
}

export const BenchContext = createContext<Bench | null>(null);

/** The build on the bench, for parts that need more than `PageProps` gives: a log's readings, an import. */
export function useBench(): Bench {
  const bench = useContext(BenchContext);
  if (bench === null) throw new Error('This part belongs inside a build.');
  return bench;
}

/** Stores a log and its run, both or neither. Rejects with RefusedError (its `faults` say why) or UnreachableError. */
export function useImportRun(): (run: Run, file: string, log: Blob) => Promise<void> {
  const { open } = useBench();
  return (run, file, log) => open.importRun(run, file, log);
}

export type SeriesFace =
  | { readonly face: 'loading' }
  | { readonly face: 'failed'; readonly faults: readonly Fault[] }
  | { readonly face: 'ready'; readonly series: RunSeries };

/** The readings of one run, read in the worker. While newer ones are read, the last ones stay. */
export function useSeries(run: Run): SeriesFace {
  const bench = useBench();
  const [state, setState] = useState<{ readonly run: string; readonly face: SeriesFace }>({
    run: run.id,
    face: { face: 'loading' },
  });
  const build = bench.open.build.value;
  // Readings depend on the log, its recipe and the probe checks; a new name or phase must not read the log again.
  const inputs = JSON.stringify([run.id, run.log, run.recipe, build?.probes, build?.probeChecks]);

  useEffect(() => {
    if (build === null) return undefined;
    let current = true;
    bench.assessor.series(build, run.id).then(
      (series) => current && setState({ run: run.id, face: { face: 'ready', series } }),
      (error) => current && setState({ run: run.id, face: { face: 'failed', faults: faultsOf(error) } }),
    );
    return () => {
      current = false;
    };
  }, [bench, inputs]);

  return state.run === run.id ? state.face : { face: 'loading' };
}
