import type { Contest } from '../../compare/index.js';
import { found, type Result } from '../../measure/index.js';
import type { Correction } from '../../probes/index.js';
import type { Build } from '../../records/index.js';
import type { AssessHeatOptions, HeatAssessment, NoHeat } from '../assess-heat.js';
import type { GridWish } from '../device/lay-grid.js';
import { calibrateHeat } from './calibrate-heat.js';
import { type ShownSetup, TryBench } from './try-setup.js';

/** The heat model as it is printed: what it says, and the fields that are drawn. It can be sent from one worker to another. */
export interface HeatReport {
  readonly assessment: HeatAssessment;
  /** Set-ups at the design ambient, first the one that matters most; each is drawn as plan and section. */
  readonly shown: readonly { readonly setup: string; readonly field: ShownSetup }[];
}

/**
 * Calibrates a build's model and draws the field of one set-up under load, at the design ambient where there is one.
 *
 * @param setup by its id; nothing is drawn where there is none of that id, or where it cannot be modelled
 * @throws BadInputError where the records cannot carry a model
 */
export function reportHeat(
  build: Build,
  contests: readonly Contest[],
  corrections: readonly Correction[],
  setup: string | null,
  options: AssessHeatOptions & { readonly grid?: GridWish } = {},
): Result<HeatReport, NoHeat> {
  const made = calibrateHeat(build, contests, corrections, options);
  if (!made.ok) return made;
  const { assessment, calibrated } = made.value;
  const drawn = build.setups.find(({ id }) => id === setup);
  if (drawn === undefined || assessment.unpredicted.some((each) => each.setup === setup))
    return found({ assessment, shown: [] });
  const shown = new TryBench(build, contests, corrections, calibrated, options.grid).show({
    setup: drawn,
    ambient_C: build.designAmbient?.ambient_C ?? null,
    use: { charging: false, load_W: null },
    plane: 'pack',
  });
  return shown.ok ? found({ assessment, shown: [{ setup: drawn.id, field: shown.value }] }) : shown;
}
