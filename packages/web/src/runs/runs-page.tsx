import type { Build, Run } from '@soakbench/core/records';
import { presentStopRules, type RunResult, tellSight, warmestCell } from '@soakbench/core/runs';
import type { Assessment } from '@soakbench/core/verdict';
import { Answer, Condition } from '../parts/answer.js';
import { FailedFace, LoadingFace } from '../parts/faces.js';
import { probeName, runName } from '../parts/names.js';
import type { Edit, PageProps } from '../parts/page.js';
import { DataTable, TableFold } from '../parts/table.js';
import { pageHref } from '../router.js';
import { ImportButton } from './import-button.js';
import { NoRuns } from './no-runs.js';
import {
  leadingProbe,
  plateauDetails,
  plateauRows,
  runAnswer,
  runCondition,
  runLedger,
} from './present-run.js';
import { ProbesInSection } from './probes-in-section.js';
import { RunFigure } from './run-figure.js';
import { RunFlags } from './run-flags.js';
import { RunLedger } from './run-ledger.js';
import { RunRecord } from './run-record.js';

interface RunsPageProps extends PageProps {
  readonly run?: string;
}

/** What did the bench measure? All runs, and one of them in full. */
export function RunsPage({ build, assessment, edit, run: wanted }: RunsPageProps) {
  if (build.runs.length === 0) return <NoRuns build={build} edit={edit} />;
  const run =
    build.runs.find(({ id }) => id === wanted) ?? (wanted === undefined ? build.runs.at(-1) : undefined);
  if (run === undefined) {
    return (
      <>
        <FailedFace
          title="There is no such run."
          faults={[
            {
              where: wanted ?? '',
              what: 'is not a run of this build, or it was undone.',
              remedy: 'Choose another run.',
            },
          ]}
        />
        <p class="btns">
          <a class="btn" href={pageHref(build.id, 'runs')}>
            All runs
          </a>
        </p>
      </>
    );
  }
  const probe = assessment === null ? null : leadingProbe(build, assessment);
  const result = assessment?.runs.runs.find((each) => each.run === run.id);
  const groups = runLedger(build, assessment, probe);
  return (
    <>
      <Head
        build={build}
        run={run}
        result={result}
        assessment={assessment}
        probe={probe}
        isChosen={wanted !== undefined}
      />
      <div class="sheet">
        <div>
          <RunBody
            build={build}
            run={run}
            result={result}
            assessment={assessment}
            edit={edit}
            probe={probe}
          />
        </div>
        <aside class="margin" aria-label="All runs">
          <RunLedger
            build={build.id}
            groups={groups}
            selected={run.id}
            caption={probe === null ? 'All runs' : `Rise at ${probeName(build, probe)} under load`}
          />
          <p class="btns">
            <ImportButton build={build} edit={edit} />
          </p>
          <p class="small">Or drop a log anywhere on this build.</p>
        </aside>
      </div>
      {result && assessment && (
        <div class="sheet">
          <div>
            <ProbesInSection build={build} run={run} result={result} />
            <PlateausInFull build={build} run={run} result={result} />
          </div>
          <aside class="margin" aria-label="Plateaus">
            <section>
              <h3>Plateaus, {runName(run)}</h3>
              <DataTable
                caption="Settled levels"
                columns={[
                  { title: 'probe' },
                  { title: 'idle, °C', right: true },
                  { title: 'load, °C', right: true },
                  { title: 'rise, K', right: true },
                ]}
                rows={plateauRows(build, result, probe)}
                class="tight"
              />
            </section>
          </aside>
        </div>
      )}
      <RunRecord build={build} run={run} result={result} edit={edit} />
    </>
  );
}

function PlateausInFull({
  build,
  run,
  result,
}: {
  readonly build: Build;
  readonly run: Run;
  readonly result: RunResult;
}) {
  return (
    <TableFold title="Every plateau in full">
      <DataTable
        caption={`Plateaus of ${runName(run)}`}
        columns={[
          { title: 'probe and phase' },
          { title: 'rise', right: true },
          { title: 'reached' },
          { title: 'time constants' },
          { title: 'drift at the end', right: true },
          { title: 'made of, K' },
        ]}
        rows={plateauDetails(build, result)}
      />
      <StopRules build={build} result={result} />
    </TableFold>
  );
}

/** What the usual rules for "settled" would have missed at the warmest cell under load. */
function StopRules({ build, result }: { readonly build: Build; readonly result: RunResult }) {
  const leading = warmestCell(build, result);
  if (leading === null) return null;
  return (
    <DataTable
      caption={`Had ${probeName(build, leading.probe)} been stopped by a rule under load: what would have been missed, by the curve fitted here.`}
      label="Stop rules"
      columns={[
        { title: 'rule' },
        { title: 'would have ended it' },
        { title: 'missing', right: true },
        { title: 'from' },
      ]}
      rows={presentStopRules(leading).map((row) => ({
        key: row.key,
        cells: [row.rule, row.ends, row.missing, row.source],
      }))}
    />
  );
}

interface OneRun {
  readonly build: Build;
  readonly run: Run;
  readonly result: RunResult | undefined;
  readonly assessment: Assessment | null;
  readonly probe: string | null;
}

/** The answer speaks of the run the address names; where it names none, of all of them. */
function Head({ build, run, result, assessment, probe, isChosen }: OneRun & { readonly isChosen: boolean }) {
  if (assessment === null) return null;
  if (!isChosen) {
    return (
      <>
        <Answer sentence={assessment.runs.answer} />
        <Condition>{assessment.runs.condition}</Condition>
      </>
    );
  }
  if (result === undefined) return null;
  return (
    <>
      <Answer sentence={runAnswer(build, run, result, probe)} />
      <Condition>{runCondition(build, run, result)}</Condition>
    </>
  );
}

function RunBody({ build, run, result, assessment, edit, probe }: OneRun & { readonly edit: Edit }) {
  if (assessment === null) return <LoadingFace what="Reading the logs …" />;
  const unreadable = assessment.runs.unreadable.find((each) => each.run === run.id);
  if (unreadable) {
    // The reason of a lost log names its file, with remedies for a folder and not for this page.
    const isLost = unreadable.reason.startsWith(`logs/${run.log.file} is missing`);
    return (
      <FailedFace
        title={`The log of ${runName(run)} cannot be read any more.`}
        faults={[
          {
            where: `${run.log.file}:`,
            what: isLost ? 'It is not there any more.' : sentence(unreadable.reason),
            remedy: isLost
              ? 'Bring the store back from a copy, or set the run aside below with the reason.'
              : 'Correct its recipe below, or undo the last change.',
          },
        ]}
      />
    );
  }
  if (result === undefined) return <LoadingFace what={`Reading the log of ${runName(run)} …`} />;
  return (
    <>
      <RunFigure key={run.id} build={build} run={run} result={result} edit={edit} probe={probe} />
      <RunFlags flags={result.flags} sight={tellSight(result, assessment.runs.runs)} />
    </>
  );
}

function sentence(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}
