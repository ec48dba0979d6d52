import { temperatureAnchors } from '@soakbench/core/drawing';
import {
  hasHeatData,
  type PlaneName,
  planeWords,
  presentFieldPlan,
  presentFieldSection,
  presentHeat,
} from '@soakbench/core/heat';
import { formatCelsius, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { addTo } from '../build/change-build.js';
import { Answer, Condition } from '../parts/answer.js';
import { EmptyFace, FailedFace, FaultList, LoadingFace } from '../parts/faces.js';
import { ChoiceField } from '../parts/fields.js';
import { setupName } from '../parts/names.js';
import type { PageProps } from '../parts/page.js';
import { TemperatureFigure } from '../parts/section-figure.js';
import { deskFor } from './desk-for.js';
import { type Draft, isChanged, nameOfDraft, recordOf, restartDraft, startDraft, wishOf } from './draft.js';
import { FieldFigure } from './field-figure.js';
import { doubtKey, type HeatDesk } from './heat-desk.js';
import { HeatTables } from './heat-tables.js';
import { LiveBar, LiveNumbers } from './live-numbers.js';
import { NoModel } from './no-model.js';
import { liveMargins, liveRows, tellThought } from './present-live.js';
import { LayerControls, RoomControls } from './setup-controls.js';

/** What would an untried set-up do? A calibrated model to drag layers in, with how far it can be trusted beside it. */
export function HeatPage({ build, assessment, edit }: PageProps) {
  if (assessment === null) return <LoadingFace what="Reading the runs …" />;
  return <Bench build={build} assessment={assessment} edit={edit} />;
}

interface ReadyProps extends Omit<PageProps, 'assessment'> {
  readonly assessment: Assessment;
}

function Bench({ build, assessment, edit }: ReadyProps) {
  const { main, others } = assessment.compare;
  const contests = useMemo(() => (main === null ? [] : [main, ...others]), [main, others]);
  const { corrections } = assessment.probes;
  const has = useMemo(() => hasHeatData(build, contests, corrections), [build, contests, corrections]);
  const desk = deskFor(build.id);
  useEffect(() => {
    if (has) desk.follow({ build, contests, corrections });
  }, [desk, has, build, contests, corrections]);
  const face = desk.face.value;
  if (!has) return <NoModel build={build} assessment={assessment} />;
  switch (face.face) {
    case 'calibrating':
      return (
        <section class="face calibrating">
          <p class="answer">The model is being held to the runs.</p>
          <p class="cond">
            It is fitted to every settled rise, then each set-up is left out in turn and predicted from the
            others: that gives the error that stands beside every prediction. You can leave this page
            meanwhile.
          </p>
          <p>
            <progress value={face.share} max={1} aria-label="Calibrating the model" />{' '}
            <span class="small" role="status">
              {face.doing}
            </span>
          </p>
          <p class="btns">
            <button type="button" class="btn" onClick={() => desk.stop()}>
              Stop
            </button>
          </p>
        </section>
      );
    case 'stopped':
      return (
        <EmptyFace title="Calibrating was stopped.">
          <p>Without it nothing can be predicted. It takes from some seconds to a few minutes.</p>
          <p class="btns">
            <button type="button" class="btn" onClick={() => desk.calibrate()}>
              Calibrate the model
            </button>
          </p>
        </EmptyFace>
      );
    case 'failed':
      return (
        <FailedFace
          title="No model of this build can be made yet."
          faults={face.faults}
          onRetry={() => desk.calibrate()}
        />
      );
    case 'ready':
      return <Thinking build={build} edit={edit} desk={desk} />;
  }
}

/** Drafts by build: going to another page and back loses nothing. */
const drafts = new Map<string, Draft>();

function useDraft(build: Build): [Draft, (draft: Draft) => void] {
  const [draft, setDraft] = useState(() => drafts.get(build.id) ?? startDraft(build, startingSetup(build)));
  const keep = (next: Draft) => {
    drafts.set(build.id, next);
    setDraft(next);
  };
  return [draft, keep];
}

/** One nobody has run yet, if there is one; else the last, which is mostly the one worked on. */
function startingSetup({ setups, runs }: Build): string {
  const untried = setups.find(({ id }) => !runs.some(({ setup }) => setup === id));
  return (untried ?? setups.at(-1))?.id ?? '';
}

interface ThinkingProps extends Pick<PageProps, 'build' | 'edit'> {
  readonly desk: HeatDesk;
}

function Thinking({ build, edit, desk }: ThinkingProps) {
  const [draft, setDraft] = useDraft(build);
  const wish = useMemo(() => wishOf(build, draft), [build, draft]);
  const baseline = build.setups.find(({ id }) => id === build.baseline) ?? build.setups[0] ?? null;
  useEffect(() => desk.show(wish, baseline), [desk, wish, baseline]);
  useEffect(() => desk.predictFurther(build.setups), [desk, build.setups]);
  const heat = desk.assessmentOf(build);
  const view = useMemo(
    () => (heat === null ? null : presentHeat(build, heat)),
    [build, heat?.predictions.length, desk.face.value],
  );
  const onShow = desk.onShow.value;
  const shown = onShow?.shown ?? null;
  const shownKey = onShow === null ? '' : doubtKey(onShow.wish);
  const doubts = desk.doubts.value;
  const rises = doubts !== null && doubts.key === shownKey ? doubts.rises : null;
  const ghost = desk.ghost.value;
  const ghostShown =
    ghost !== null &&
    onShow !== null &&
    baseline !== null &&
    doubtKey(ghost.wish) === doubtKey({ ...onShow.wish, setup: baseline })
      ? ghost.shown
      : null;
  const anchors = useMemo(() => temperatureAnchors(build), [build]);
  const plan = useMemo(
    () => (shown ? presentFieldPlan(build, shown, anchors) : null),
    [build, shown, anchors],
  );
  const section = useMemo(
    () => (shown ? presentFieldSection(build, shown, anchors) : null),
    [build, shown, anchors],
  );
  const count = useCount(onShow);
  const faults = desk.faults.value;
  if (view === null || heat === null) return <LoadingFace what="Laying out the device …" />;

  const changed = isChanged(build, draft);
  const isMeasured =
    !changed && heat.predictions.some(({ setup, measured }) => setup === draft.from && measured);
  const isThought = changed || (!isMeasured && draft.from !== '');
  const baselineName = baseline?.name ?? '';
  const error_K = heat.leaveOneOut?.cells_K ?? heat.leaveOneOut?.all_K ?? null;
  const answer =
    isThought && shown !== null
      ? tellThought({
          name: onShow?.wish.setup.name ?? '',
          isMeasured,
          shown,
          rises,
          ghost: ghostShown,
          baseline: baselineName,
          error_K,
        })
      : view.answer;
  const keep = () => {
    const record = recordOf(build, draft);
    edit(`Keep ${record.name} as a set-up`, (old) => addTo(old, 'setups', record));
  };
  return (
    <>
      <Answer sentence={answer} />
      <Condition>
        {isThought && shown !== null
          ? `Settled, ${draft.load_W === null ? 'with the usual load of the runs' : `with ${formatNumber(draft.load_W, 1)} W`}${draft.charging ? ', charging' : ''}, in a room of ${formatCelsius(shown.ambient_C)}. ${error_K === null ? 'How far the model is off nobody can tell yet.' : `Leaving each measured set-up out in turn, the model errs by ${formatNumber(error_K, 1)} K.`}`
          : view.condition}
      </Condition>
      <div class="heatbench">
        {plan && section && shown && (
          <div class="heatpair">
            <figure>
              <h2>Plan, predicted</h2>
              <p class="lead small">At {planeWords[shown.plane]}. Zones dashed.</p>
              <FieldFigure view={plan} count={count} />
            </figure>
            <figure>
              <h2>Section A–A, predicted</h2>
              <p class="lead small">Through the hottest zone, front on top.</p>
              <FieldFigure view={section} count={count} />
            </figure>
          </div>
        )}
        {faults.length > 0 && (
          <div role="alert" class="thoughtfault">
            <p>
              <b>This set-up cannot be: the pictures still show the last one that could.</b>
            </p>
            <FaultList faults={faults} />
          </div>
        )}
        <div class="desk heatdesk">
          <div>
            <section class="part">
              <h2>Think of a set-up</h2>
              <div class="fields">
                <ChoiceField
                  label="Start from"
                  value={draft.from}
                  size="half"
                  options={build.setups.map(({ id, name }) => [id, name] as const)}
                  onValue={(from) => from && setDraft(restartDraft(build, draft, from))}
                />
                <ChoiceField
                  label="Seen from above"
                  value={shown?.plane ?? draft.plane}
                  size="half"
                  options={(shown?.planes ?? (['pack'] as const)).map(
                    (name) => [name, planeWords[name]] as const,
                  )}
                  onValue={(plane) => plane && setDraft({ ...draft, plane: plane as PlaneName })}
                />
              </div>
              <LayerControls build={build} draft={draft} onDraft={setDraft} />
              <p class="btns">
                <button
                  type="button"
                  class="btn main"
                  aria-disabled={changed && faults.length === 0 ? undefined : 'true'}
                  onClick={() => changed && faults.length === 0 && keep()}
                >
                  Keep as a set-up
                </button>
                <button
                  type="button"
                  class="btn"
                  aria-disabled={changed ? undefined : 'true'}
                  onClick={() => changed && setDraft(restartDraft(build, draft, draft.from))}
                >
                  Start over
                </button>
                <span class="small">{keepWords(build, draft, changed)}</span>
              </p>
            </section>
            <section class="part">
              <h2>Room, load, faces</h2>
              <RoomControls build={build} draft={draft} onDraft={setDraft} />
            </section>
          </div>
          <div class="stay">
            {shown && (
              <section class="part" aria-label="What the model shows">
                <h2>{isMeasured ? 'By the model' : 'Predicted'}</h2>
                <LiveNumbers
                  rows={liveRows(shown, rises, ghostShown)}
                  margins={liveMargins(build, shown, rises, draft.charging)}
                  baseline={baselineName}
                  ambient={formatCelsius(shown.ambient_C)}
                  room={`Left in the bay for swelling: ${formatNumber(shown.room_mm, 2)} mm. ± is one standard uncertainty; it follows when the hand rests. In a warmer room faces give off more, so a rise is a little smaller there than in the room of the runs, in which the tables below stand. ${formatNumber(shown.cells / 1000, 0)} thousand cells.`}
                />
              </section>
            )}
            <div class="margin flat">
              <TemperatureFigure build={build} />
            </div>
          </div>
        </div>
        {shown && (
          <LiveBar
            rows={liveRows(shown, rises, ghostShown)}
            room_mm={shown.room_mm}
            baseline={baselineName}
          />
        )}
      </div>
      <HeatTables view={view} picked={draft.from} />
    </>
  );
}

function keepWords(build: Build, draft: Draft, changed: boolean): string {
  if (changed) return `As “${nameOfDraft(build, draft)}”, to be soaked, planned and compared.`;
  return `${setupName(build, draft.from)} is in the build as it stands. Change a layer to think of another.`;
}

/** How many fields were shown so far. */
function useCount(onShow: unknown): number {
  const last = useRef<unknown>(null);
  const count = useRef(0);
  if (last.current !== onShow) {
    last.current = onShow;
    count.current += 1;
  }
  return count.current;
}
