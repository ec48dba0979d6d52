import { planeWords, presentHeat } from '@soakbench/core/heat';
import type { Build } from '@soakbench/core/records';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import { addTo } from '../build/change-build.js';
import { LoadingFace } from '../parts/faces.js';
import { ChoiceField } from '../parts/fields.js';
import { setupName } from '../parts/names.js';
import type { PageProps } from '../parts/page.js';
import { TemperatureFigure } from '../parts/section-figure.js';
import { type Draft, isChanged, nameOfDraft, recordOf, restartDraft, startDraft, wishOf } from './draft.js';
import type { HeatDesk } from './heat-desk.js';
import { HeatTables } from './heat-tables.js';
import { LayerControls, RoomControls } from './setup-controls.js';
import {
  FieldPair,
  PlaneChoice,
  ShownBar,
  ShownNumbers,
  ThoughtAnswer,
  ThoughtFaults,
} from './shown-parts.js';

/** Drafts by build: going to another page and back loses nothing. */
const drafts = new Map<string, Draft>();

function useDraft(build: Build): [Draft, (change: (draft: Draft) => Draft) => void] {
  const [draft, setDraft] = useState(() => drafts.get(build.id) ?? startDraft(build, startingSetup(build)));
  const keep = useCallback(
    (change: (draft: Draft) => Draft) =>
      setDraft((old) => {
        const next = change(old);
        drafts.set(build.id, next);
        return next;
      }),
    [build.id],
  );
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

/**
 * The calibrated model at work. A dial that moves changes the draft; what the model shows of it comes later, to the parts that
 * wait for it. Neither lays out again what the other does not touch, or the page would be late for its next frame.
 */
export function Thinking({ build, edit, desk }: ThinkingProps) {
  const [draft, setDraft] = useDraft(build);
  const wish = useMemo(() => wishOf(build, draft), [build, draft]);
  const baseline = build.setups.find(({ id }) => id === build.baseline) ?? build.setups[0] ?? null;
  useEffect(() => desk.show(wish, baseline), [desk, wish, baseline]);
  useEffect(() => desk.predictFurther(build.setups), [desk, build.setups]);
  const further = desk.further.value;
  const face = desk.face.value;
  const heat = useMemo(() => desk.assessmentOf(build), [desk, build, further, face]);
  const view = useMemo(() => (heat === null ? null : presentHeat(build, heat)), [build, heat]);
  const pictures = useMemo(() => <FieldPair build={build} desk={desk} />, [build, desk]);
  const scale = useMemo(() => <TemperatureFigure build={build} />, [build]);
  const tables = useMemo(() => view && <HeatTables view={view} picked={draft.from} />, [view, draft.from]);
  if (view === null || heat === null) return <LoadingFace what="Laying out the device …" />;

  const changed = isChanged(build, draft);
  const isMeasured =
    !changed && heat.predictions.some(({ setup, measured }) => setup === draft.from && measured);
  const thought = { build, desk, draft, baseline, isMeasured };
  const canKeep = changed && desk.faults.value.length === 0;
  const keep = () => {
    const record = recordOf(build, draft);
    edit(`Keep ${record.name} as a set-up`, (old) => addTo(old, 'setups', record));
  };
  return (
    <>
      <ThoughtAnswer {...thought} view={view} heat={heat} isThought={changed || !isMeasured} />
      <div class="heatbench">
        {pictures}
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
                  onValue={(from) => from && setDraft((old) => restartDraft(build, old, from))}
                />
                <PlaneChoice
                  desk={desk}
                  plane={draft.plane}
                  words={planeWords}
                  onPlane={(plane) => setDraft((old) => ({ ...old, plane }))}
                />
              </div>
              <LayerControls build={build} draft={draft} onDraft={setDraft} />
              <p class="btns">
                <button
                  type="button"
                  class="btn main"
                  aria-disabled={canKeep ? undefined : 'true'}
                  onClick={() => canKeep && keep()}
                >
                  Keep as a set-up
                </button>
                <button
                  type="button"
                  class="btn"
                  aria-disabled={changed ? undefined : 'true'}
                  onClick={() => changed && setDraft((old) => restartDraft(build, old, old.from))}
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
            <ThoughtFaults build={build} desk={desk} setup={wish.setup} />
            <ShownNumbers {...thought} />
            <div class="margin flat">{scale}</div>
          </div>
        </div>
        <ShownBar build={build} desk={desk} baseline={baseline} />
      </div>
      {tables}
    </>
  );
}

function keepWords(build: Build, draft: Draft, changed: boolean): string {
  if (changed) return `As “${nameOfDraft(build, draft)}”, to be soaked, planned and compared.`;
  return `This is ${setupName(build, draft.from)} as the build has it. Change a layer to think of another.`;
}
