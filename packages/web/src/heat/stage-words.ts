import { heatState } from '@soakbench/core/heat';
import type { StageName } from '@soakbench/core/stages';
import type { StageRow } from '../parts/stage-rows.js';
import { openDesk } from './desk-for.js';

type State = Pick<StageRow, 'level' | 'words'>;

/** What the stage line says of heat while a desk is open: the model lives on the page, not in the assessment. */
export function heatStates(build: string): ReadonlyMap<StageName, State> {
  const desk = openDesk(build);
  if (desk === null || !desk.isUsed.value) return new Map();
  const face = desk.face.value;
  const states: Record<typeof face.face, () => State> = {
    calibrating: () => ({ level: 'none', words: 'calibrating' }),
    stopped: () => ({ level: 'none', words: 'not calibrated' }),
    failed: () => ({ level: 'none', words: 'no model yet' }),
    ready: () =>
      face.face === 'ready'
        ? heatState(face.calibration.assessment)
        : { level: 'none', words: 'not calibrated' },
  };
  return new Map([['heat', states[face.face]()]]);
}
