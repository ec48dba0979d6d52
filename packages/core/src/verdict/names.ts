import type { Build } from '../records/index.js';

/** Names of a build's records by id, for sentences. */
export interface Names {
  readonly setup: (id: string) => string;
  readonly probe: (id: string) => string;
  /** "Run 7" of a run named "Run 7, plate": the set-up stands beside it anyway. */
  readonly run: (id: string) => string;
}

export function namesOf(build: Pick<Build, 'setups' | 'probes' | 'runs'>): Names {
  return {
    setup: (id) => build.setups.find((setup) => setup.id === id)?.name ?? id,
    run: (id) => build.runs.find((run) => run.id === id)?.name?.split(',')[0] ?? id,
    probe: (id) => build.probes.find((probe) => probe.id === id)?.name ?? id,
  };
}

/** A sentence begins with a capital. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
