import type { Build, Run } from '@soakbench/core/records';

/** What a set-up is called; its id where it is not in the build any more. */
export function setupName(build: Pick<Build, 'setups'>, id: string): string {
  return build.setups.find((setup) => setup.id === id)?.name ?? id;
}

export function probeName(build: Pick<Build, 'probes'>, id: string): string {
  return build.probes.find((probe) => probe.id === id)?.name ?? id;
}

export function runName(run: Pick<Run, 'id' | 'name'>): string {
  return run.name ?? run.id;
}
