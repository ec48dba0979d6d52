import type { Build, Run } from '@soakbench/core/records';
import { presentRunChart, type RunResult, type RunSeries } from '@soakbench/core/runs';
import { useCallback, useMemo, useRef, useState } from 'preact/hooks';
import { useSeries } from '../api/bench.js';
import { FailedFace, LoadingFace } from '../parts/faces.js';
import { ChoiceField } from '../parts/fields.js';
import { probeName, runName } from '../parts/names.js';
import type { Edit } from '../parts/page.js';
import { DataTable, TableFold } from '../parts/table.js';
import { clockWords } from './clock-words.js';
import { nearestRow, type PhaseSpan, usualPhases, withPhases } from './move-limit.js';
import { chartRows } from './present-run.js';
import { RunChart } from './run-chart.js';
import { changeRun } from './run-record.js';

interface RunFigureProps {
  readonly build: Build;
  readonly run: Run;
  readonly result: RunResult;
  readonly edit: Edit;
  /** The probe drawn in the accent at first. */
  readonly probe: string | null;
}

/**
 * The phases to show while a result is on its way: those set by hand stand at once, and after they are taken back those
 * found before stand again, so that no limit jumps under the hand. Undefined where the result's own are right.
 */
function useStandingPhases(run: Run, result: RunResult): readonly PhaseSpan[] | undefined {
  const found = useRef<readonly PhaseSpan[] | undefined>(undefined);
  const isFound = result.phases.every(({ by }) => by === 'data');
  if (isFound) found.current = result.phases;
  if (run.phases !== undefined) return run.phases;
  return isFound ? undefined : found.current;
}

export function RunFigure(props: RunFigureProps) {
  const face = useSeries(props.run);
  if (face.face === 'loading') return <LoadingFace what="Reading the log …" />;
  if (face.face === 'failed') return <FailedFace title="The log cannot be shown." faults={face.faults} />;
  return <ReadyFigure {...props} series={face.series} />;
}

function ReadyFigure({
  build,
  run,
  result,
  edit,
  probe,
  series,
}: RunFigureProps & { readonly series: RunSeries }) {
  const [chosen, choose] = useState<string | undefined>(undefined);
  const probes = series.channels.map((channel) => channel.probe);
  const shown = chosen ?? (probe !== null && probes.includes(probe) ? probe : undefined);
  const phases = useStandingPhases(run, result);
  const view = useMemo(() => {
    const computed = presentRunChart(build, result, series, shown === undefined ? {} : { chosen: shown });
    // What was just moved stands at once; the plateau follows when it is computed.
    return phases === undefined ? computed : { ...computed, phases };
  }, [build, result, series, shown, phases]);
  const name = runName(run);
  const setPhases = useCallback(
    (what: string, next: readonly PhaseSpan[] | null) =>
      edit(what, (old) => changeRun(old, run.id, (kept) => withPhases(kept, next))),
    [edit, run.id],
  );
  const onPhases = useCallback(
    (next: readonly PhaseSpan[]) => setPhases(`Correct the phases of ${name}`, next),
    [setPhases, name],
  );
  const byPerson = run.phases !== undefined;

  return (
    <figure>
      <RunChart view={view} interval_s={result.report.interval_s} onPhases={onPhases} />
      <div class="charthelp">
        <p class="small">
          {byPerson ? 'Phases as they were set by hand.' : 'Phases as they were found in the data.'} Drag a
          grip, or step it with the arrow keys: one row, with shift ten. The wheel with Ctrl, a pinch or the
          buttons show a part of the run closer; dragging the chart moves it.
        </p>
        <p class="btns">
          {byPerson && (
            <button
              type="button"
              class="btn"
              onClick={() => setPhases(`Find the phases of ${name} again`, null)}
            >
              Find phases again
            </button>
          )}
          {!byPerson && result.phases.length < 3 && (
            <button
              type="button"
              class="btn"
              onClick={() => setPhases(`Mark the phases of ${name} by hand`, usualPhases(view.span_s))}
            >
              Mark idle, load and cool by hand
            </button>
          )}
        </p>
        {probes.length > 1 && (
          <ChoiceField
            label="Plateau shown for"
            value={shown ?? view.lines.find(({ role }) => role === 'chosen')?.probe}
            options={probes.map((id) => [id, probeName(build, id)])}
            onValue={choose}
          />
        )}
      </div>
      <TableFold>
        <DataTable
          caption={`Readings of ${name}, °C`}
          columns={[{ title: 'time, h' }, ...view.lines.map((line) => ({ title: line.name, right: true }))]}
          rows={chartRows(view, (at_s) => nearestRow(view.after_s, at_s))}
        />
        <DataTable
          caption="Phases"
          columns={[{ title: 'phase' }, { title: 'from', right: true }, { title: 'to', right: true }]}
          rows={view.phases.map(({ kind, from_s, to_s }) => ({
            key: `${kind} ${from_s}`,
            cells: [kind, clockWords(from_s), clockWords(to_s)],
          }))}
        />
      </TableFold>
    </figure>
  );
}
