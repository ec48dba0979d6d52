import type { DossierHeat } from '@soakbench/core/dossier';
import { calibrateHeat, hasHeatData, TryBench } from '@soakbench/core/heat';
import { BadInputError } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';

/**
 * The heat model for a dossier, with the set-up of the verdict drawn at the design ambient.
 *
 * @returns null where records or runs cannot carry a model: a dossier stands without one
 */
export function modelHeat(build: Build, { compare, probes, runs, verdict }: Assessment): DossierHeat | null {
  const contests = compare.main === null ? [...compare.others] : [compare.main, ...compare.others];
  const { corrections } = probes;
  const setup = build.setups.find(({ id }) => id === (verdict.setup ?? compare.main?.baseline));
  if (setup === undefined || !hasHeatData(build, contests, corrections)) return null;
  try {
    const made = calibrateHeat(build, contests, corrections, { runs: runs.runs });
    if (!made.ok) return null;
    const { assessment, calibrated } = made.value;
    const shown = new TryBench(build, contests, corrections, calibrated).show({
      setup,
      ambient_C: build.designAmbient?.ambient_C ?? null,
      use: { charging: false, load_W: null },
      plane: 'pack',
    });
    return shown.ok ? { assessment, shown: [{ setup: setup.id, field: shown.value }] } : null;
  } catch (error) {
    if (error instanceof BadInputError) return null;
    throw error;
  }
}
