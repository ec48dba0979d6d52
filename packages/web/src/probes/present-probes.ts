import type { IntervalView } from '@soakbench/core/drawing';
import { probeTitle } from '@soakbench/core/drawing';
import { formatCelsius, formatKelvin, formatNumber } from '@soakbench/core/measure';
import { type Correction, writeReadings } from '@soakbench/core/probes';
import type { Build } from '@soakbench/core/records';
import type { ProbesResult } from '@soakbench/core/verdict';

export interface ProbesView {
  /** What is added to each probe's reading where it matters, with its doubt. */
  readonly plot: IntervalView;
  readonly corrections: readonly CorrectionRow[];
  readonly baths: readonly BathRow[];
  /** What the probes are made of; empty where no record says. */
  readonly sensors: readonly SensorRow[];
}

export interface CorrectionRow {
  readonly probe: string;
  readonly name: string;
  readonly model: string;
  readonly correction: string;
  readonly gain: string;
  readonly reading: string;
  readonly sameProbe: string;
  readonly checked: string;
}

export interface BathRow {
  readonly key: string;
  readonly name: string;
  readonly reference: string;
  readonly why: string;
  readonly readings: string;
  readonly scatter: string;
  readonly left: string;
}

export interface SensorRow {
  readonly probe: string;
  readonly name: string;
  readonly sensor: string;
  readonly basis: string;
}

const modelWords = { none: 'not checked', offset: 'offset', 'offset-gain': 'offset and gain' } as const;

/** The probe checks as a plot and two tables. */
export function presentProbes(build: Build, result: ProbesResult): ProbesView {
  const nameOf = (id: string) => {
    const probe = build.probes.find((candidate) => candidate.id === id);
    return probe ? probeTitle(probe) : id;
  };
  return {
    plot: plotOf(result, nameOf),
    corrections: result.corrections.map((correction) =>
      correctionRow(correction, result, nameOf(correction.probe)),
    ),
    baths: result.baths.map((point) => ({
      key: `${point.check} ${point.bath} ${point.probe}`,
      name: nameOf(point.probe),
      reference: formatCelsius(point.reference_C, point.reference_u_K),
      why: point.referenceWhy,
      readings: writeReadings(point),
      scatter: point.scatter_K === null ? 'one reading' : formatNumber(point.scatter_K, 2),
      left: formatNumber(point.left_K, 2),
    })),
    sensors: result.sensors.some(({ sensor }) => sensor !== null)
      ? result.sensors.map(({ probe, sensor, basisWords }) => ({
          probe,
          name: nameOf(probe),
          sensor: sensor ?? 'not said',
          basis: basisWords,
        }))
      : [],
  };
}

function correctionRow(correction: Correction, result: ProbesResult, name: string): CorrectionRow {
  const budget = result.budget.find((row) => row.probe === correction.probe);
  const at = budget ? ` at ${formatNumber(budget.at_C, 0)} °C` : '';
  return {
    probe: correction.probe,
    name,
    model: modelWords[correction.model],
    correction: correction.model === 'none' || !budget ? 'none' : signed(budget.correction_K, 2) + at,
    gain: correction.model === 'offset-gain' ? correction.gain.toFixed(4) : 'not fitted',
    reading: budget ? formatKelvin(budget.total.u_K, budget.total.u_K) : 'not known',
    sameProbe: budget ? formatKelvin(budget.sameProbe.u_K, budget.sameProbe.u_K) : 'not known',
    checked: correction.checked_C
      ? `${formatNumber(correction.checked_C[0], 0)} to ${formatNumber(correction.checked_C[1], 0)} °C`
      : 'not checked',
  };
}

function plotOf(result: ProbesResult, nameOf: (id: string) => string): IntervalView {
  const rows = result.budget.map((row): IntervalView['rows'][number] => {
    const correction = result.corrections.find((candidate) => candidate.probe === row.probe);
    const isChecked = correction !== undefined && correction.model !== 'none';
    const around = (half: number) => [row.correction_K - half, row.correction_K + half] as const;
    return {
      name: [{ words: nameOf(row.probe) }],
      mark: { value: row.correction_K, thick: around(row.total.u_K), thin: around(row.total.expanded_K) },
      isFirm: isChecked,
      runs: result.points
        .filter((point) => point.probe === row.probe)
        .map((point) => point.reference_C - point.reading_C),
      figure: `${signed(row.correction_K, 2)} ± ${formatNumber(row.total.u_K, 2)} K`,
      note: isChecked ? 'checked' : 'not checked',
      look: isChecked ? 'holds' : 'none',
    };
  });
  const words = rows.map((row) => `${row.name.map((run) => run.words).join('')} ${row.figure}, ${row.note}`);
  return {
    label: `What is added to each probe's reading, in kelvins: ${words.join('; ')}.`,
    unit: 'K',
    rows,
    zero: { at: 0, words: 'reads true', toward: 'reads low →' },
    hasGuides: true,
  };
}

/** A correction says which way it goes. */
function signed(value: number, decimals: number): string {
  const text = formatNumber(value, decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}
