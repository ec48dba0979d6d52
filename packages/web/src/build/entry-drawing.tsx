import { drawPlan, formatThickness } from '@soakbench/core/drawing';
import { findGeometryFaults } from '@soakbench/core/heat';
import { type Fault, formatList } from '@soakbench/core/measure';
import type { Build, Setup } from '@soakbench/core/records';
import { presentPlan, presentSection } from '@soakbench/core/verdict';
import { useCallback, useMemo } from 'preact/hooks';
import { DrawingView } from '../parts/drawing.js';
import { FaultList } from '../parts/faces.js';
import { LevelWord } from '../parts/level.js';
import { nameFaults } from '../parts/name-place.js';
import { Section } from '../parts/section-figure.js';

/** Stands in until the first set-up is entered: the pack as it would lie with nothing before it. */
const noLayers: Setup = { id: 'no-layers-yet', name: 'no layers yet', layers: [] };

interface EntryDrawingProps {
  readonly build: Build;
  readonly setup: string | undefined;
}

/** Section and plan as far as they are described, beside the fields that make them. */
export function EntryDrawing({ build, setup }: EntryDrawingProps) {
  const drawn = useMemo(() => (build.setups.length > 0 ? build : { ...build, setups: [noLayers] }), [build]);
  const id = setup ?? drawn.setups[0]?.id ?? noLayers.id;
  const { section, missing } = useMemo(() => presentSection(drawn, id), [drawn, id]);
  if (section === null) {
    return (
      <div class="blank">
        <p>
          Here the section appears: the device cut through at its hottest zone, to scale. It needs{' '}
          {formatList(missing)}.
        </p>
      </div>
    );
  }
  return (
    <>
      <Section build={drawn} setup={id} readings={[]} rows={[]} />
      <RoomLeft reserve_mm={section.view.reserve_mm} />
      <Misplaced build={drawn} setup={id} />
      <Plan build={drawn} setup={id} />
    </>
  );
}

function RoomLeft({ reserve_mm }: { readonly reserve_mm: number }) {
  const left = formatThickness(Math.abs(reserve_mm));
  if (reserve_mm < 0) {
    return (
      <p class="caution stop">
        <LevelWord level="stop" /> The stack is <b>{left} mm thicker</b> than the bay. A shell that is forced
        shut presses on the pack, and a pressed pack can burn.
      </p>
    );
  }
  return (
    <p class="lead">
      <b>{left} mm</b> of the bay are left for the cells to swell.
    </p>
  );
}

/** Parts that stick out of what holds them, or stand in one place: the drawing shows them, and no heat model can be made of them. */
function Misplaced({ build, setup }: { readonly build: Build; readonly setup: string }) {
  const faults = useMemo(() => {
    const drawn = build.setups.find(({ id }) => id === setup);
    // How much room is left in the bay stands above.
    const isOfPlan = ({ where }: Fault) => where !== `setups.${setup}`;
    return drawn === undefined ? [] : findGeometryFaults(build, drawn).filter(isOfPlan);
  }, [build, setup]);
  return faults.length === 0 ? null : <FaultList faults={nameFaults(build, faults)} />;
}

function Plan({ build, setup }: { readonly build: Build; readonly setup: string }) {
  const { plan } = useMemo(() => presentPlan(build, setup), [build, setup]);
  const draw = useCallback(
    (width: number) => {
      if (plan === null) throw new Error('There is no plan to draw.');
      return drawPlan(plan, width);
    },
    [plan],
  );
  if (plan === null) return null;
  return (
    <figure class="gap">
      <h3>Plan, pack side</h3>
      <DrawingView draw={draw} />
    </figure>
  );
}
