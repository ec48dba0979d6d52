import type { Build } from '../records/index.js';
import type { Plateau, RunResult } from './run-result.js';

/** The plateau under load at the cell that the run warmed most; null where no cell has one. */
export function warmestCell(build: Pick<Build, 'probes'>, run: Pick<RunResult, 'plateaus'>): Plateau | null {
  const isCell = (id: string) => build.probes.find((probe) => probe.id === id)?.place === 'cell';
  return run.plateaus
    .flatMap(({ phase, result }) => (phase === 'load' && result.ok ? [result.value] : []))
    .filter(({ probe }) => isCell(probe))
    .reduce<Plateau | null>(
      (best, one) => (best === null || one.rise_K.value > best.rise_K.value ? one : best),
      null,
    );
}
