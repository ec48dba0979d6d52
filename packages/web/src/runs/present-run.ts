/** One run in words and rows: its answer, its place in the ledger, its plateaus. Nothing is computed here. */
import {
  formatCelsius,
  formatCount,
  formatDuration,
  formatElapsed,
  formatEstimate,
  formatKelvin,
  formatNumber,
  type Sentence,
} from '@soakbench/core/measure';
import type { Build, Run } from '@soakbench/core/records';
import { describeRefusal, type Plateau, type RunResult } from '@soakbench/core/runs';
import type { Assessment } from '@soakbench/core/verdict';
import type { Level } from '../parts/level.js';
import { probeName, runName, setupName } from '../parts/names.js';
import type { Row } from '../parts/table.js';

/** The probe the page speaks of: the one that decides the comparison, else the first on a cell. */
export function leadingProbe(build: Pick<Build, 'probes'>, assessment: Assessment): string | null {
  return (
    assessment.compare.main?.quantity.probe ?? build.probes.find(({ place }) => place === 'cell')?.id ?? null
  );
}

export function plateauOf(result: RunResult, probe: string, phase: 'idle' | 'load'): Plateau | null {
  const entry = result.plateaus.find((each) => each.probe === probe && each.phase === phase);
  return entry?.result.ok ? entry.result.value : null;
}

/** "Run 7, plate: C1 settles 21.5 ± 0.3 K above the room under 5.2 W. The plateau was reached …" */
export function runAnswer(build: Build, run: Run, result: RunResult, probe: string | null): Sentence {
  const name = runName(run);
  const setup = setupName(build, run.setup);
  const head = name.includes(setup) ? name : `${name}, ${setup}`;
  const load_W = run.conditions?.load_W;
  const under = load_W === undefined ? 'under load' : `under ${formatNumber(load_W, 1)} W`;
  const plateau = probe === null ? null : plateauOf(result, probe, 'load');
  if (probe === null || plateau === null) {
    const entry = result.plateaus.find((each) => each.probe === probe && each.phase === 'load');
    const why =
      entry && !entry.result.ok ? describeRefusal(entry.result.reason) : (result.whyNot ?? 'no load phase');
    return [
      `${head}: `,
      { figure: 'no settled rise' },
      ` ${under} can be named: ${why}.${run.setAside === undefined ? '' : ' The run is set aside.'}`,
    ];
  }
  const charging = result.charging ? ' while charging' : '';
  return [
    `${head}: ${probeName(build, probe)} settles `,
    { figure: formatEstimate(plateau.rise_K, 'K'), why: plateauWhy(build, plateau) },
    ` above the room ${under}${charging}. The plateau was `,
    { figure: plateau.reached ? 'reached' : 'extrapolated' },
    plateau.reached
      ? `, drifting ${formatKelvin(plateau.drift_K_per_h)} per hour at the end`
      : `, with ${formatKelvin(plateau.remaining_K)} still to come when the phase ended`,
    result.counted ? '.' : `; the run is not counted: ${result.whyNot ?? 'set aside'}.`,
  ];
}

/** How a plateau came about, for the figure that explains itself. */
export function plateauWhy(build: Pick<Build, 'probes'>, plateau: Plateau): string {
  const { rise_K, parts, timeConstants } = plateau;
  const curve =
    timeConstants.length === 0
      ? 'Mean over the settled part'
      : `A saturating curve with ${formatCount(timeConstants.length, 'time constant')} (${timeConstants.map(({ tau_s }) => formatDuration(tau_s)).join(' and ')})`;
  const contributions = parts
    .map(({ name, u_K, why }) => `${name} ${formatNumber(u_K, 2)} K (${why})`)
    .join('; ');
  const freedom = rise_K.dof === null ? '' : ` with ${formatNumber(rise_K.dof, 0)} degrees of freedom`;
  return `${curve}, fitted to ${probeName(build, plateau.probe)} less the room between ${formatElapsed(plateau.from_s)} and ${formatElapsed(plateau.to_s)}. The standard uncertainty${freedom} is made of: ${contributions}. Probe calibration and re-mounting are not in it.`;
}

export interface LedgerRow {
  readonly run: string;
  readonly name: string;
  readonly rise: string;
  readonly level: Level;
  readonly state: string;
}

export interface LedgerGroup {
  readonly setup: string;
  readonly name: string;
  readonly count: string;
  readonly rows: readonly LedgerRow[];
}

/** All runs by set-up, in the order of the set-ups; within one, in the order they were stored. */
export function runLedger(build: Build, assessment: Assessment | null, probe: string | null): LedgerGroup[] {
  return build.setups.flatMap((setup) => {
    const runs = build.runs.filter((run) => run.setup === setup.id);
    if (runs.length === 0) return [];
    const aside = runs.filter((run) => run.setAside !== undefined).length;
    return [
      {
        setup: setup.id,
        name: setup.name,
        count: `${formatCount(runs.length, 'run')}${aside > 0 ? `, ${aside} aside` : ''}`,
        rows: runs.map((run) => ledgerRow(setup.name, run, assessment, probe)),
      },
    ];
  });
}

function ledgerRow(setup: string, run: Run, assessment: Assessment | null, probe: string | null): LedgerRow {
  const result = assessment?.runs.runs.find((each) => each.run === run.id);
  const plateau = result && probe !== null ? plateauOf(result, probe, 'load') : null;
  const name = shortRunName(run, setup);
  return {
    run: run.id,
    name,
    rise: plateau === null ? '–' : formatKelvin(plateau.rise_K.value),
    ...runState(run, result, assessment, plateau),
  };
}

/** The ledger stands under the set-up's name, so the run need not repeat it: "Run 7, plate" becomes "Run 7". */
function shortRunName(run: Run, setup: string): string {
  const name = runName(run);
  const [first = name] = name.split(',');
  return name.startsWith(`${first}, ${setup}`) ? first : name;
}

function runState(
  run: Run,
  result: RunResult | undefined,
  assessment: Assessment | null,
  plateau: Plateau | null,
): { level: Level; state: string } {
  if (assessment === null) return { level: 'none', state: 'being read' };
  if (assessment.runs.unreadable.some((each) => each.run === run.id))
    return { level: 'stop', state: 'not readable' };
  if (result === undefined) return { level: 'none', state: 'not read' };
  if (run.setAside !== undefined) return { level: 'stop', state: 'set aside' };
  if (!result.counted)
    return { level: 'stop', state: `not counted, ${result.whyNot ?? ''}`.replace(/, $/, '') };
  const marked = result.flags.filter(({ level }) => level !== 'holds').length;
  const charging = result.charging ? ', charging' : '';
  if (plateau !== null && !plateau.reached) return { level: 'look', state: `extrapolated${charging}` };
  if (marked > 0) return { level: 'look', state: `${formatCount(marked, 'flag')}${charging}` };
  return { level: 'holds', state: `settled${charging}` };
}

/** One row for each probe: settled levels at idle and under load, and the rise under load. */
export function plateauRows(build: Build, result: RunResult, pick: string | null): Row[] {
  const probes = [...new Set(result.plateaus.map(({ probe }) => probe))];
  return probes.map((probe) => {
    const load = plateauOf(result, probe, 'load');
    return {
      key: probe,
      pick: probe === pick,
      cells: [
        probeName(build, probe),
        levelCell(result, probe, 'idle'),
        levelCell(result, probe, 'load'),
        load === null ? '–' : formatNumber(load.rise_K.value, 1),
      ],
    };
  });
}

function levelCell(result: RunResult, probe: string, phase: 'idle' | 'load'): string {
  const plateau = plateauOf(result, probe, phase);
  return plateau === null ? '–' : formatNumber(plateau.level_C, 1);
}

/** Every plateau in full, for the table beneath: reached or not, time constants, contributions. */
export function plateauDetails(build: Build, result: RunResult): Row[] {
  return result.plateaus.map(({ probe, phase, result: plateau }) => ({
    key: `${probe} ${phase}`,
    cells: plateau.ok
      ? [
          `${probeName(build, probe)}, ${phase}`,
          formatEstimate(plateau.value.rise_K, 'K'),
          plateau.value.reached
            ? 'reached'
            : `extrapolated, ${formatKelvin(plateau.value.remaining_K)} to go`,
          plateau.value.timeConstants.map(({ tau_s }) => formatDuration(tau_s)).join(', '),
          `${formatNumber(plateau.value.drift_K_per_h, 1)} K/h`,
          plateau.value.parts.map(({ name, u_K }) => `${name} ${formatNumber(u_K, 2)}`).join(', '),
        ]
      : [`${probeName(build, probe)}, ${phase}`, 'none', describeRefusal(plateau.reason), '', '', ''],
  }));
}

/** The readings at the limits of the phases and halfway between: the chart in a few numbers. */
export function chartRows(
  view: {
    readonly after_s: ArrayLike<number>;
    readonly span_s: number;
    readonly lines: readonly { readonly level_C: ArrayLike<number> }[];
    readonly phases: readonly { readonly from_s: number; readonly to_s: number }[];
  },
  rowAt: (at_s: number) => number,
): Row[] {
  const limits = view.phases.flatMap(({ from_s, to_s }) => [from_s, (from_s + to_s) / 2, to_s]);
  const steps = Array.from({ length: 9 }, (_, index) => (index * view.span_s) / 8);
  const rows = [...new Set([...limits, ...steps].map(rowAt))].sort((one, other) => one - other);
  return rows.map((row) => ({
    key: String(row),
    cells: [
      formatElapsed(view.after_s[row] ?? 0),
      ...view.lines.map(({ level_C }) => {
        const level = level_C[row];
        return level === undefined || Number.isNaN(level) ? 'no reading' : formatNumber(level, 1);
      }),
    ],
  }));
}

/** When, where in the series of runs, and how long: what stands under the answer. */
export function runCondition(build: Build, run: Run, result: RunResult | undefined): string {
  const parts = [`Session ${run.session}, ${run.mounting}`];
  if (result?.startedAt) parts.push(`started ${result.startedAt.slice(0, 16).replace('T', ' ')} UTC`);
  if (result) parts.push(`${formatDuration(result.span_s)} of log`);
  const ambient_C = result?.plateaus.find(({ phase, result: each }) => phase === 'load' && each.ok);
  if (ambient_C?.result.ok)
    parts.push(`room at ${formatCelsius(ambient_C.result.value.ambient_C)} under load`);
  if (result?.loop_s) parts.push(`load in loops of ${formatNumber(result.loop_s / 60, 1)} min`);
  const counted = build.runs.length;
  return `${parts.join('; ')}. One of ${formatCount(counted, 'run')}.`;
}
