import type { IntervalRow, IntervalView } from '../../drawing/index.js';
import { formatCount, formatEstimate, formatKelvin, formatList, formatNumber } from '../../measure/index.js';
import { tQuantile } from '../../numerics/index.js';
import type { Build } from '../../records/index.js';
import type { HeatAssessment } from '../assess-heat.js';
import type { LeftOut } from '../calibrate/leave-one-out.js';
import { capital, setupName } from './tell-heat.js';

export interface TrustRow {
  readonly key: string;
  readonly setup: string;
  readonly probe: string;
  readonly measured: string;
  readonly predicted: string;
  readonly off: string;
  /** False where the measurement lies outside the prediction's 95 %. */
  readonly isInside: boolean;
}

/** Degrees of freedom behind a prediction's doubt, as `predict` states them: few set-ups stand behind it. */
const dof = 5;

/**
 * How far to trust it: each set-up predicted from the others, held against its runs.
 *
 * Drawn as what the prediction is off by, with the doubts of both, so that a row that touches zero is one that came out.
 *
 * @returns null where nothing could be left out
 */
export function presentTrust(
  build: Pick<Build, 'setups' | 'probes'>,
  { leaveOneOut }: Pick<HeatAssessment, 'leaveOneOut'>,
): { sentence: string; view: IntervalView; rows: TrustRow[] } | null {
  if (leaveOneOut === null || leaveOneOut.rows.length === 0) return null;
  const { rows, cells_K, all_K, widening } = leaveOneOut;
  const probeName = (id: string) => build.probes.find((probe) => probe.id === id)?.name ?? id;
  const reach = tQuantile(0.975, dof);
  const setupOf = ({ setup, charging, phase }: LeftOut) => useWords(setupName(build, setup), charging, phase);
  const off = (row: LeftOut) => row.predicted_K - row.measured_K;
  const doubt = (row: LeftOut) => Math.hypot(row.predicted_u_K, row.measured_u_K);
  const isInside = (row: LeftOut) => Math.abs(off(row)) <= reach * doubt(row);
  const inside = rows.filter(isInside).length;
  const errors = [
    ...(cells_K === null ? [] : [`${formatKelvin(cells_K)} at the cells`]),
    ...(all_K === null ? [] : [`${formatKelvin(all_K)} over all probes`]),
  ];
  const drawn = rows.map((row): IntervalRow => {
    const [value, u] = [off(row), doubt(row)];
    return {
      name: [{ words: capital(setupOf(row)) }, { words: probeName(row.probe), quiet: true }],
      mark: {
        value,
        thick: [value - u, value + u],
        thin: [value - reach * u, value + reach * u],
      },
      figure: signedKelvin(value),
      note: isInside(row) ? '' : 'outside 95 %',
    };
  });
  return {
    sentence: `Each set-up predicted from the others, then held against its own runs. Root mean square error ${formatList(errors)}; ${inside} of ${formatCount(rows.length, 'measurement')} ${inside === 1 ? 'lies' : 'lie'} inside 95 %. ${
      widening > 1.005
        ? `The model’s own error was widened ${formatNumber(widening, 2)} times for it.`
        : 'Nothing had to be widened for it.'
    }`,
    view: {
      label: `Predicted less measured, each set-up left out in turn: ${formatList(
        rows.map((row) => `${setupOf(row)} at ${probeName(row.probe)} ${signedKelvin(off(row))}`),
      )}.`,
      unit: 'K',
      rows: drawn,
      zero: { at: 0, words: 'as measured', toward: 'predicted too warm →' },
    },
    rows: rows.map((row, index) => ({
      key: `${row.setup} ${row.probe} ${index}`,
      setup: setupOf(row),
      probe: probeName(row.probe),
      measured: formatEstimate({ value: row.measured_K, u: row.measured_u_K }, '').trim(),
      predicted: formatEstimate({ value: row.predicted_K, u: row.predicted_u_K }, '').trim(),
      off: signedKelvin(off(row)),
      isInside: isInside(row),
    })),
  };
}

function signedKelvin(value_K: number): string {
  return `${value_K > 0.05 ? '+' : ''}${formatKelvin(value_K)}`;
}

/** "plate", "plate, charging", "plate, idle". */
export function useWords(setup: string, charging: boolean, phase: 'idle' | 'load'): string {
  return `${setup}${phase === 'idle' ? ', idle' : ''}${charging ? ', charging' : ''}`;
}
