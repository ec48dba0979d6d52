import { drawSectionDetail, formatThickness } from '@soakbench/core/drawing';
import { formatCelsius } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, presentSection } from '@soakbench/core/verdict';
import { useCallback, useMemo } from 'preact/hooks';
import { DrawingView } from '../parts/drawing.js';
import { useDesignReadings } from '../parts/section-figure.js';

interface SideBySideProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

/** Every measured set-up as a detail of the section, at one scale, so that the eye can compare what lies between. */
export function SetupsSideBySide({ build, assessment }: SideBySideProps) {
  const measured = assessment.compare.main?.setups.map(({ setup }) => setup) ?? [];
  const drawable = measured.some((setup) => presentSection(build, setup).section !== null);
  const ambient_C = build.designAmbient?.ambient_C;
  if (!drawable) return null;
  return (
    <section class="sidebyside">
      <h2>The set-ups at the hottest zone</h2>
      <p class="lead">
        {ambient_C === undefined ? '' : `At ${formatCelsius(ambient_C, 2)} ambient, full load. `}Details of
        the section at one scale. Beneath each: what is left for the cells to swell.
      </p>
      <div class="four">
        {measured.map((setup) => (
          <Detail key={setup} build={build} assessment={assessment} setup={setup} />
        ))}
      </div>
    </section>
  );
}

function Detail({ build, assessment, setup }: SideBySideProps & { readonly setup: string }) {
  const readings = useDesignReadings({ build, assessment, setup });
  const { section } = useMemo(() => presentSection(build, setup, readings), [build, setup, readings]);
  const draw = useCallback(
    (width: number) => {
      if (section === null) throw new Error('There is no section to draw.');
      return drawSectionDetail(section.view, width);
    },
    [section],
  );
  if (section === null) return null;
  const { reserve_mm } = section.view;
  const { name, layers } = build.setups.find(({ id }) => id === setup) ?? { name: setup, layers: [] };
  const added = layers.map((layer) => `${formatThickness(layer.thickness_mm)} mm ${layer.name}`).join(', ');
  return (
    <figure>
      <h3>
        {name}
        {setup === assessment.verdict.setup && <span class="small"> chosen</span>}
      </h3>
      <DrawingView draw={draw} />
      <p class="small">
        {added === '' ? 'Nothing added' : added};{' '}
        {reserve_mm >= 0
          ? `${formatThickness(reserve_mm)} mm left for swelling.`
          : `too thick for the bay by ${formatThickness(-reserve_mm)} mm.`}
      </p>
    </figure>
  );
}
