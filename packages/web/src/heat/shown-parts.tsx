/** The parts of the page that follow what the model shows. Each watches the desk itself, so that no other part is laid out again for it. */
import { temperatureAnchors } from '@soakbench/core/drawing';
import {
  type HeatAssessment,
  type HeatView,
  type PlaneName,
  type PredictedRise,
  planeWords,
  presentFieldPlan,
  presentFieldSection,
  type ShownSetup,
} from '@soakbench/core/heat';
import { formatCelsius, formatNumber } from '@soakbench/core/measure';
import type { Build, Setup } from '@soakbench/core/records';
import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { Answer, Condition } from '../parts/answer.js';
import { FaultList } from '../parts/faces.js';
import { ChoiceField } from '../parts/fields.js';
import { LevelShape } from '../parts/level.js';
import { nameFaults } from '../parts/name-place.js';
import type { Draft } from './draft.js';
import { FieldFigure } from './field-figure.js';
import { doubtKey, type HeatDesk } from './heat-desk.js';
import { LiveBar, useScrollsAway } from './live-bar.js';
import { LiveNumbers } from './live-numbers.js';
import { liveMargins, liveRows, tellThought } from './present-live.js';

interface DeskProps {
  readonly desk: HeatDesk;
}

/** What is on show, with its intervals and the baseline beside it, each only where it belongs to what is on show. */
function useShown(desk: HeatDesk, baseline: Setup | null) {
  const onShow = desk.onShow.value;
  const doubts = desk.doubts.value;
  const ghost = desk.ghost.value;
  if (onShow === null) return null;
  const { wish, shown } = onShow;
  const rises: readonly PredictedRise[] | null = doubts?.key === doubtKey(wish) ? doubts.rises : null;
  const ghostKey = baseline === null ? null : doubtKey({ ...wish, setup: baseline });
  const beside: ShownSetup | null = ghost !== null && ghostKey === doubtKey(ghost.wish) ? ghost.shown : null;
  return { name: wish.setup.name, shown, rises, ghost: beside, charging: wish.use.charging };
}

/** Plan and section, painted as they come. */
export function FieldPair({ build, desk }: DeskProps & { readonly build: Build }) {
  const onShow = desk.onShow.value;
  const shown = onShow?.shown ?? null;
  const anchors = useMemo(() => temperatureAnchors(build), [build]);
  const plan = useMemo(() => shown && presentFieldPlan(build, shown, anchors), [build, shown, anchors]);
  const section = useMemo(() => shown && presentFieldSection(build, shown, anchors), [build, shown, anchors]);
  const count = useCount(onShow);
  const pair = useRef<HTMLDivElement>(null);
  useKeptClear(pair, shown !== null);
  if (!plan || !section || !shown) return null;
  return (
    <div class="heatpair" ref={pair}>
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
  );
}

/** Tells the page's style how tall the pictures are, so that what stays in sight beneath them begins where they end. */
function useKeptClear(pair: { readonly current: HTMLElement | null }, isThere: boolean): void {
  useLayoutEffect(() => {
    const element = pair.current;
    if (!element) return undefined;
    const { style } = document.documentElement;
    const observer = new ResizeObserver(() => style.setProperty('--pair', `${element.offsetHeight}px`));
    observer.observe(element);
    return () => {
      observer.disconnect();
      style.removeProperty('--pair');
    };
  }, [pair, isThere]);
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

interface FaultsProps extends DeskProps {
  readonly build: Build;
  /** The set-up that is wished. */
  readonly setup: Setup;
}

/** What is wrong with the set-up that was wished, while the pictures keep the last one that was not. */
export function ThoughtFaults({ build, desk, setup }: FaultsProps) {
  const faults = desk.faults.value;
  if (faults.length === 0) return null;
  return (
    <div role="alert" class="thoughtfault">
      <p>
        <b>This set-up cannot be: the pictures still show the last one that could.</b>
      </p>
      <FaultList faults={nameFaults({ zones: build.zones, setups: [setup] }, faults)} />
    </div>
  );
}

interface ThoughtProps extends DeskProps {
  readonly build: Build;
  readonly draft: Draft;
  readonly baseline: Setup | null;
  readonly isMeasured: boolean;
}

interface AnswerProps extends ThoughtProps {
  readonly view: HeatView;
  readonly heat: HeatAssessment;
  /** False where a set-up of the build is shown as it was soaked: then the page’s own answer stands. */
  readonly isThought: boolean;
}

/** The page's answer: of the build, or of what is being thought of. */
export function ThoughtAnswer({ desk, draft, baseline, isMeasured, view, heat, isThought }: AnswerProps) {
  const seen = useShown(desk, baseline);
  if (!isThought || seen === null) {
    return (
      <>
        <Answer sentence={view.answer} />
        <Condition>{view.condition}</Condition>
      </>
    );
  }
  const error_K = heat.leaveOneOut?.cells_K ?? heat.leaveOneOut?.all_K ?? null;
  const load =
    draft.load_W === null ? 'with the usual load of the runs' : `with ${formatNumber(draft.load_W, 1)} W`;
  const trust =
    error_K === null
      ? 'How far the model is off nobody can tell yet.'
      : `Leaving each measured set-up out in turn, the model errs by ${formatNumber(error_K, 1)} K.`;
  return (
    <>
      <Answer sentence={tellThought({ ...seen, isMeasured, baseline: baseline?.name ?? '', error_K })} />
      <Condition>
        Settled, {load}
        {seen.charging ? ', charging' : ''}, in a room of {formatCelsius(seen.shown.ambient_C)}. {trust}
      </Condition>
    </>
  );
}

interface PlaneChoiceProps extends DeskProps {
  readonly plane: PlaneName;
  readonly words: Readonly<Record<PlaneName, string>>;
  readonly onPlane: (plane: PlaneName) => void;
}

/** What is seen from above; only planes that the set-up on show has. */
export function PlaneChoice({ desk, plane, words, onPlane }: PlaneChoiceProps) {
  const shown = desk.onShow.value?.shown;
  const planes = shown?.planes ?? (['pack'] as const);
  return (
    <ChoiceField
      label="Seen from above"
      value={planes.includes(plane) ? plane : 'pack'}
      size="half"
      options={planes.map((name) => [name, words[name]] as const)}
      onValue={(next) => next && onPlane(next as PlaneName)}
    />
  );
}

/** The numbers that follow the hand, and whether they are final. */
export function ShownNumbers({ build, desk, baseline, isMeasured }: ThoughtProps) {
  const seen = useShown(desk, baseline);
  const isProvisional = desk.isProvisional.value;
  const isRefused = desk.faults.value.length > 0;
  if (seen === null) return null;
  const { shown, rises, ghost, charging } = seen;
  return (
    <section class="part" aria-label="What the model shows">
      <h2>{isMeasured ? 'By the model' : 'Predicted'}</h2>
      <p class="small firmness" role="status">
        <LevelShape level={isRefused ? 'stop' : isProvisional ? 'none' : 'holds'} />{' '}
        {isRefused
          ? 'Not of the set-up wished, but of the last one that could be.'
          : isProvisional
            ? 'Provisional: ± and “at least” follow when the hand rests.'
            : 'Worked out: ± is one standard uncertainty.'}
      </p>
      <LiveNumbers
        rows={liveRows(shown, rises, ghost)}
        margins={liveMargins(build, shown, rises, charging)}
        baseline={baseline?.name ?? ''}
        ambient={formatCelsius(shown.ambient_C)}
        isProvisional={isProvisional}
        room={`Left in the bay for swelling: ${formatNumber(shown.room_mm, 2)} mm. In a warmer room faces give off more, so a rise is a little smaller there than in the room of the runs, in which the tables below stand. This set-up is cut into ${formatNumber(shown.cells / 1000, 0)} thousand boxes.`}
      />
    </section>
  );
}

/** The bar at the foot of a window in which the pictures scroll away. */
export function ShownBar(props: Pick<ThoughtProps, 'build' | 'desk' | 'baseline'>) {
  return useScrollsAway() ? <SeenBar {...props} /> : null;
}

function SeenBar({ build, desk, baseline }: Pick<ThoughtProps, 'build' | 'desk' | 'baseline'>) {
  const seen = useShown(desk, baseline);
  const isProvisional = desk.isProvisional.value;
  const fault = desk.faults.value[0]?.what ?? null;
  const anchors = useMemo(() => temperatureAnchors(build), [build]);
  const shown = seen?.shown ?? null;
  const section = useMemo(() => shown && presentFieldSection(build, shown, anchors), [build, shown, anchors]);
  if (seen === null || section === null) return null;
  return (
    <LiveBar
      section={section}
      rows={liveRows(seen.shown, seen.rises, seen.ghost)}
      margins={liveMargins(build, seen.shown, seen.rises, seen.charging)}
      room_mm={seen.shown.room_mm}
      baseline={baseline?.name ?? ''}
      isProvisional={isProvisional}
      fault={fault}
    />
  );
}
