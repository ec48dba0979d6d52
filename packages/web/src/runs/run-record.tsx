import { formatNumber } from '@soakbench/core/measure';
import type { Build, Run } from '@soakbench/core/records';
import type { RunResult } from '@soakbench/core/runs';
import { linesText } from '@soakbench/core/runs';
import { useRef, useState } from 'preact/hooks';
import { TextField } from '../parts/fields.js';
import { runName } from '../parts/names.js';
import type { Edit } from '../parts/page.js';
import { ChannelList } from './channel-list.js';
import { logsAmbient } from './import-draft.js';
import { RecipeFields } from './recipe-fields.js';
import { RunFields, type RunValues } from './run-fields.js';

interface RunRecordProps {
  readonly build: Build;
  readonly run: Run;
  readonly result: RunResult | undefined;
  readonly edit: Edit;
}

/** Changes one run of the build and leaves the others as they are. */
export function changeRun(build: Build, id: string, change: (run: Run) => Run): Build {
  return { ...build, runs: build.runs.map((run) => (run.id === id ? change(run) : run)) };
}

/** What is kept of a run: its conditions, how its log is read, whether it counts. */
export function RunRecord({ build, run, result, edit }: RunRecordProps) {
  const name = runName(run);
  const keep = (what: string, change: (run: Run) => Run) =>
    edit(what, (old) => changeRun(old, run.id, change));
  return (
    <div class="cols record">
      <section class="wide">
        <h2>What is known of this run</h2>
        <RunFields
          key={run.id}
          build={build}
          edit={edit}
          values={valuesOf(run)}
          needsAmbient={!logsAmbient(build, run.recipe)}
          onChange={(part) => keep(`Correct the record of ${name}`, (old) => withValues(old, part))}
        />
        <SetAside run={run} name={name} keep={keep} />
      </section>
      <section>
        <h2>How its log is read</h2>
        <LogFacts build={build} run={run} result={result} />
        <details class="fold">
          <summary>Correct the recipe</summary>
          <RecipeFields
            recipe={run.recipe}
            width={lineWidth(run)}
            headers={recipeHeaders(run)}
            onRecipe={(recipe) => keep(`Correct the recipe of ${name}`, (old) => ({ ...old, recipe }))}
          />
          <h3>Columns</h3>
          <ChannelList
            build={build}
            recipe={run.recipe}
            headers={recipeHeaders(run)}
            rows={[]}
            first={run.recipe.layout?.form === 'long' ? lineWidth(run) : 0}
            onRecipe={(recipe) => keep(`Correct the columns of ${name}`, (old) => ({ ...old, recipe }))}
          />
        </details>
      </section>
    </div>
  );
}

function LogFacts({ build, run, result }: Omit<RunRecordProps, 'edit'>) {
  const file = run.log.file;
  const unread = result?.report.unread ?? [];
  return (
    <>
      <ul class="conclusions">
        {(result?.report.conclusions ?? []).map((conclusion) => (
          <li key={conclusion}>{conclusion}</li>
        ))}
      </ul>
      <p class="small">
        {result === undefined ? (
          'Nothing of it is read.'
        ) : unread.length === 0 ? (
          'Every row and cell was read.'
        ) : (
          <>
            Not read:{' '}
            {unread
              .map(
                ({ reason, count, lines }) =>
                  `${formatNumber(count, 0)} × ${reason}, in ${linesText(lines, count)}`,
              )
              .join('; ')}
            .
          </>
        )}
      </p>
      <p class="small">
        <a
          href={`/api/builds/${encodeURIComponent(build.id)}/logs/${encodeURIComponent(file)}`}
          download={file}
        >
          {file}
        </a>
        , kept as it came. SHA-256 <span class="hash">{run.log.sha256.slice(0, 16)}…</span>
      </p>
    </>
  );
}

interface SetAsideProps {
  readonly run: Run;
  readonly name: string;
  readonly keep: (what: string, change: (run: Run) => Run) => void;
}

/** Taking a run out of the comparison needs a reason, and the reason stays with it. */
function SetAside({ run, name, keep }: SetAsideProps) {
  // Enter in the field keeps the text and sends the form in one go, before anything is rendered anew.
  const reason = useRef('');
  const [isMissing, setMissing] = useState(false);
  if (run.setAside !== undefined) {
    return (
      <div class="aside">
        <h3>Set aside</h3>
        <p>{run.setAside || 'No reason was given.'}</p>
        <p class="btns">
          <button
            type="button"
            class="btn"
            onClick={() =>
              keep(`Count ${name} again`, (old) => {
                const { setAside: _reason, ...rest } = old;
                return rest;
              })
            }
          >
            Count it again
          </button>
        </p>
      </div>
    );
  }
  return (
    <form
      class="aside"
      onSubmit={(event) => {
        event.preventDefault();
        const setAside = reason.current;
        setMissing(setAside === '');
        if (setAside !== '') keep(`Set ${name} aside`, (old) => ({ ...old, setAside }));
      }}
    >
      <h3>Leave it out of the comparison</h3>
      <div class="fields">
        <TextField
          label="Reason"
          size="wide"
          value=""
          maxLength={400}
          hint={
            isMissing
              ? 'Write why: a run that is left out for no stated reason makes every other run doubtful.'
              : 'A fault of the run itself, such as a loose probe; not that its result is unwelcome.'
          }
          onValue={(value) => {
            reason.current = value ?? '';
          }}
        />
      </div>
      <p class="btns">
        <button type="submit" class="btn">
          Set aside
        </button>
      </p>
    </form>
  );
}

function valuesOf(run: Run): RunValues {
  const { load_W, load_u_W, idle_W, idle_u_W, pack_A, charging, ambient_C, ambient_u_K } =
    run.conditions ?? {};
  const { name = '', setup, session, mounting } = run;
  const power = { load_W, load_u_W, idle_W, idle_u_W, pack_A };
  return { name, setup, session, mounting, ...power, charging, ambient_C, ambient_u_K };
}

/** The run with changed fields; fields that are emptied are taken out, and what must stand keeps its old value. */
function withValues(run: Run, part: Partial<RunValues>): Run {
  const { name, setup, session, mounting, ...conditions } = part;
  const next: Run = {
    ...run,
    setup: setup ?? run.setup,
    session: session || run.session,
    mounting: mounting || run.mounting,
    conditions: dropEmpty({ ...run.conditions, ...conditions }),
  };
  if (name === undefined) return next;
  if (name !== '') return { ...next, name };
  const { name: _none, ...rest } = next;
  return rest;
}

function dropEmpty<T extends object>(record: T): T {
  return Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined)) as T;
}

function recipeWidth(run: Run): number {
  const { time, channels } = run.recipe;
  const timeColumns = time.style === 'interval' ? [] : time.columns;
  return 1 + Math.max(0, ...timeColumns, ...channels.map(({ column }) => column));
}

/** Columns of a line of the log; in long form its channels are numbered on behind them. */
function lineWidth(run: Run): number {
  const { layout, channels } = run.recipe;
  return layout?.form === 'long' ? Math.min(...channels.map(({ column }) => column)) : recipeWidth(run);
}

/** Headers by column, as far as the recipe knows them. */
function recipeHeaders(run: Run): string[] {
  const headers = Array.from({ length: recipeWidth(run) }, (_, column) => run.recipe.headers?.[column] ?? '');
  for (const { column, header } of run.recipe.channels) headers[column] = header;
  return headers;
}
