import { type Fault, formatNumber } from '@soakbench/core/measure';
import type { Build, Probe, SensorFacts } from '@soakbench/core/records';
import {
  applyOption,
  describeRecipe,
  type GivenText,
  type ImportQuestion,
  type ReusedRecipe,
  type SniffedLog,
} from '@soakbench/core/runs';
import { useMemo, useState } from 'preact/hooks';
import { replaceIn } from '../build/change-build.js';
import { FaultList } from '../parts/faces.js';
import { LevelShape } from '../parts/level.js';
import type { Edit } from '../parts/page.js';
import { DataTable } from '../parts/table.js';
import { ChannelList } from './channel-list.js';
import { momentWords } from './clock-words.js';
import { correctText, type SeenLog } from './correct-text.js';
import {
  type ImportDraft,
  logsAmbient,
  missingAnswers,
  openQuestions,
  probeFrom,
  setChannel,
  startDraft,
  turnReuse,
} from './import-draft.js';
import { ImportQuestions } from './import-questions.js';
import { previewLog } from './preview-log.js';
import { RecipeFields } from './recipe-fields.js';
import { RunFields } from './run-fields.js';

interface ImportFormProps {
  readonly file: string;
  /** The beginning of the log, by which it is shown. */
  readonly head: Uint8Array;
  readonly build: Build;
  readonly edit: Edit;
  readonly sniffed: SniffedLog;
  /** The recipe of an earlier log with the same columns. */
  readonly reused: ReusedRecipe | null;
  /** Why storing failed, the last time it was tried. */
  readonly faults: readonly Fault[];
  readonly isStoring: boolean;
  /** How far the log has been read before it is sent, and the way to stop that. */
  readonly progress: {
    readonly read_bytes: number;
    readonly all_bytes: number;
    readonly stop: () => void;
  } | null;
  readonly onStore: (draft: ImportDraft) => void;
}

/** Questions first, then what the columns are, what the run was, and last how the text is read. */
export function ImportForm(props: ImportFormProps) {
  const { file, head, build, edit, sniffed, reused, faults, isStoring, progress, onStore } = props;
  const [draft, setDraft] = useState<ImportDraft>(() => {
    const recipe = reused?.recipe ?? sniffed.recipe;
    const first = previewLog(build, head, recipe, file);
    return startDraft(build, recipe, reused !== null, first.ok ? first.startedAt : null);
  });
  // What the file looks like under the person's words about its text; the sniffer's own view while they said nothing.
  const [seen, setSeen] = useState<SeenLog>(sniffed);
  const [textFaults, setTextFaults] = useState<readonly Fault[]>([]);
  const [wasAsked, setAsked] = useState(false);
  const questions = draft.usesEarlier ? [] : openQuestions(seen);
  const read = useMemo(() => previewLog(build, head, draft.recipe, file), [build, head, draft.recipe, file]);
  // A layout that the file cannot have is no part of the recipe, which would be read on in the one before.
  const isRefused = textFaults.length > 0 && draft.text.layout !== undefined;
  const preview: typeof read = isRefused ? { ok: false, faults: textFaults } : read;
  const missing = missingAnswers(build, draft, questions);
  const change = (part: Partial<ImportDraft>) => setDraft((old) => ({ ...old, ...part }));

  const answer = (question: ImportQuestion, index: number) => {
    const option = question.options[index];
    if (option === undefined) return;
    setDraft((old) => ({
      ...old,
      recipe: applyOption(old.recipe, option),
      answers: { ...old.answers, [question.field]: index },
    }));
  };
  const sayText = (part: GivenText) => {
    const text = { ...draft.text, ...part };
    const corrected = correctText(build, head, file, draft.recipe, text);
    setSeen(corrected.sniffed);
    setTextFaults(corrected.faults);
    change({ text, recipe: corrected.recipe, usesEarlier: false, answers: {} });
  };
  const addProbe = (column: number, header: string, place: Probe['place']) => {
    const probe = probeFrom(build, header, place);
    edit(`Add probe ${probe.name}`, (old) => ({ ...old, probes: [...old.probes, probe] }));
    change({ recipe: setChannel(draft.recipe, column, header, { probe: probe.id }) });
  };
  const stateSensor = (probe: Probe, sensor: SensorFacts) =>
    edit(`State the sensor of probe ${probe.name}`, (old) =>
      replaceIn(old, 'probes', probe, { ...probe, sensor }),
    );
  const { header, rows } = seen.preview;
  // Rows made of readings a line each are wider than the lines, and it is those that hold the time.
  const isLong = draft.recipe.layout?.form === 'long' && !isRefused;
  const lineColumns = isLong || isRefused ? seen.lineColumns : header;
  const width = Math.max(lineColumns.length, ...(isLong ? [] : rows.map((row) => row.length)), 0);

  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setAsked(true);
        if (missing.length === 0 && preview.ok && !isStoring) onStore(draft);
      }}
    >
      {reused !== null && (
        <ReuseNote
          reused={reused}
          isUsed={draft.usesEarlier}
          onTurn={(isUsed) => {
            setSeen(sniffed);
            setTextFaults([]);
            setDraft((old) => turnReuse(old, sniffed, reused, isUsed));
          }}
        />
      )}
      {questions.length > 0 && (
        <section class="part">
          <h3>What the file does not say</h3>
          <ImportQuestions questions={questions} answers={draft.answers} onAnswer={answer} />
        </section>
      )}
      <section class="part">
        <h3>What each column is</h3>
        <ChannelList
          build={build}
          recipe={draft.recipe}
          headers={header}
          rows={rows}
          first={isLong ? lineColumns.length : 0}
          onRecipe={(recipe) => change({ recipe })}
          onNewProbe={addProbe}
          onSensor={stateSensor}
        />
      </section>
      <section class="part" aria-live="polite">
        <h3>First rows as they are read</h3>
        {preview.ok ? (
          <>
            {preview.startedAt !== null && (
              <p class="small">The first row was logged on {momentWords(preview.startedAt)}.</p>
            )}
            <DataTable caption="First rows" columns={preview.columns} rows={preview.rows} class="preview" />
            {preview.unread.length > 0 && (
              <p class="small">Without a reading at the beginning: {preview.unread.join('; ')}.</p>
            )}
            {preview.found.map((sentence) => (
              <p key={sentence} class="small">
                {sentence}
              </p>
            ))}
          </>
        ) : (
          <FaultList faults={preview.faults} />
        )}
        <details class="fold">
          <summary>Correct how the text and the time are read</summary>
          <ul class="conclusions">
            {(draft.usesEarlier ? describeRecipe(draft.recipe) : seen.conclusions).map((conclusion) => (
              <li key={conclusion}>{conclusion}</li>
            ))}
          </ul>
          <RecipeFields
            recipe={draft.recipe}
            width={width}
            headers={lineColumns}
            onRecipe={(recipe) => change({ recipe })}
            text={{ said: draft.text, faults: textFaults, onSay: sayText }}
          />
        </details>
      </section>
      <section class="part">
        <h3>What only you know of this run</h3>
        <RunFields
          build={build}
          edit={edit}
          values={draft}
          needsAmbient={!logsAmbient(build, draft.recipe)}
          onChange={change}
        />
      </section>
      <div class="storing" role="status">
        {wasAsked && missing.length > 0 && (
          <>
            <p>Before it can be imported:</p>
            <ul>
              {missing.map((question) => (
                <li key={question} class="still">
                  <LevelShape level="none" />
                  {question}
                </li>
              ))}
            </ul>
          </>
        )}
      </div>
      {faults.length > 0 && (
        <div role="alert">
          <p class="lead">Not imported; nothing was stored. What you entered is still here.</p>
          <FaultList faults={faults} />
        </div>
      )}
      {progress !== null && (
        <p class="small reading">
          <progress aria-label="Reading the log" value={progress.read_bytes} max={progress.all_bytes} />
          <span>
            {formatNumber(progress.read_bytes / 1e6, 0)} of {formatNumber(progress.all_bytes / 1e6, 0)} MB
            read
          </span>
          <button type="button" class="btn" onClick={progress.stop}>
            Stop
          </button>
        </p>
      )}
      <p class="btns">
        <button type="submit" class="btn main" aria-disabled={isStoring || !preview.ok ? 'true' : undefined}>
          {isStoring ? 'Importing …' : 'Import log'}
        </button>
      </p>
    </form>
  );
}

interface ReuseNoteProps {
  readonly reused: ReusedRecipe;
  readonly isUsed: boolean;
  readonly onTurn: (isUsed: boolean) => void;
}

/** Says whose recipe the log is read by, and lets a person decline it. */
function ReuseNote({ reused, isUsed, onTurn }: ReuseNoteProps) {
  return (
    <section class="part" aria-live="polite">
      <h3>{isUsed ? 'Read as an earlier log was' : 'Looked at afresh'}</h3>
      <p>
        {isUsed
          ? `${reused.why} Answers and corrections given then hold again.`
          : 'The recipe of the earlier log with these columns is not used.'}
      </p>
      <p class="btns">
        <button type="button" class="btn" onClick={() => onTurn(!isUsed)}>
          {isUsed ? 'Look at it afresh' : 'Read it as the earlier log was'}
        </button>
      </p>
    </section>
  );
}
