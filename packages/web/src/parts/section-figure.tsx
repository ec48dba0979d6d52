import { drawPlan, drawSection, drawTemperatureScale, temperatureAnchors } from '@soakbench/core/drawing';
import { formatCelsius, formatList, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import {
  type Assessment,
  everyContest,
  presentPlan,
  presentSection,
  readingsAtDesignAmbient,
  type SectionReading,
} from '@soakbench/core/verdict';
import type { ComponentChildren } from 'preact';
import { useCallback, useMemo, useState } from 'preact/hooks';
import { pageHref } from '../router.js';
import { DrawingView } from './drawing.js';
import { probeName, setupName } from './names.js';
import { DataTable, TableFold } from './table.js';
import { TitleBlock } from './title-block.js';

interface SetupProps {
  readonly build: Build;
  readonly assessment: Assessment;
  readonly setup: string;
}

/** What the probes are expected to read with one set-up on the worst day, under full load. */
export function useDesignReadings({ build, assessment, setup }: SetupProps): readonly SectionReading[] {
  return useMemo(() => {
    const { compare, probes } = assessment;
    return readingsAtDesignAmbient(build, probes.corrections, everyContest(compare), compare.margins, setup);
  }, [build, assessment, setup]);
}

/** The section with one set-up and the temperatures of the worst day. */
export function SectionFigure(props: SetupProps) {
  const { build, setup } = props;
  const readings = useDesignReadings(props);
  const ambient_C = build.designAmbient?.ambient_C;
  const rows =
    ambient_C === undefined || readings.length === 0
      ? []
      : ([
          ['State', 'full load'],
          ['Ambient', formatCelsius(ambient_C)],
        ] as const);
  return (
    <Section
      build={build}
      setup={setup}
      readings={readings}
      rows={rows}
      heading={<h2 class="vh">The section with {setupName(build, setup)}</h2>}
    />
  );
}

interface SectionProps {
  readonly build: Build;
  readonly setup: string;
  readonly readings: readonly SectionReading[];
  /** What the title block says besides section, stretch, grid and set-up. */
  readonly rows: readonly (readonly [label: string, value: ComponentChildren])[];
  readonly heading?: ComponentChildren;
}

/** Section, layers in words where the drawing has no room for them, title block, and the readings as a table. */
export function Section({ build, setup, readings, rows, heading }: SectionProps) {
  const presented = useMemo(() => presentSection(build, setup, readings), [build, setup, readings]);
  const [scale, setScale] = useState<{ stretch: number; grid_mm: number; narrow: boolean } | null>(null);
  const { section } = presented;
  const draw = useCallback(
    (width: number) => {
      if (section === null) throw new Error('There is no section to draw.');
      const drawing = drawSection(section.view, width);
      // The drawing chooses its stretch by its width, and the title block has to say which.
      queueMicrotask(() =>
        setScale({ stretch: drawing.stretch, grid_mm: drawing.grid_mm, narrow: width < 560 }),
      );
      return drawing;
    },
    [section],
  );
  if (section === null) {
    return (
      <figure>
        {heading}
        <p class="dim">
          No section can be drawn yet; missing: {formatList(presented.missing)}.{' '}
          <a href={pageHref(build.id, 'build')}>Enter it with the build</a>
        </p>
      </figure>
    );
  }
  const hasSub = readings.some(({ sub }) => sub !== undefined);
  return (
    <figure>
      {heading}
      <DrawingView draw={draw} />
      {scale?.narrow && <p class="small layers">{section.layersWords}</p>}
      <TitleBlock
        rows={[
          ['Section', section.cut],
          [
            'Vertical stretch',
            scale === null
              ? ''
              : `${formatNumber(scale.stretch, Number.isInteger(scale.stretch) ? 0 : 1)} : 1`,
          ],
          ['Grid', scale === null ? '' : `${scale.grid_mm} mm`],
          ['Set-up', setupName(build, setup)],
          ...rows,
        ]}
      />
      {readings.length > 0 && (
        <TableFold>
          <DataTable
            caption="Readings in the section"
            columns={[
              { title: 'probe' },
              { title: 'temperature', right: true },
              ...(hasSub ? [{ title: 'against the limit' }] : []),
            ]}
            rows={readings.map(({ probe, level_C, u_K, sub }) => ({
              key: probe,
              cells: [
                probeName(build, probe),
                formatCelsius(level_C, u_K ?? undefined),
                ...(hasSub ? [sub ?? '–'] : []),
              ],
            }))}
          />
        </TableFold>
      )}
    </figure>
  );
}

/** The plan, for the margin: outlines, and where the section is cut. */
export function PlanFigure(props: SetupProps) {
  const { build, setup } = props;
  const readings = useDesignReadings(props);
  const { plan } = useMemo(() => presentPlan(build, setup, readings), [build, setup, readings]);
  const draw = useCallback(
    (width: number) => {
      if (plan === null) throw new Error('There is no plan to draw.');
      return drawPlan(plan, width);
    },
    [plan],
  );
  if (plan === null) return null;
  return (
    <section>
      <h3>Plan, pack side</h3>
      <DrawingView draw={draw} />
    </section>
  );
}

/** The one temperature scale, tied to this build's design ambient and lowest limit. */
export function TemperatureFigure({ build }: { readonly build: Build }) {
  const anchors = useMemo(() => temperatureAnchors(build), [build]);
  const marks = useMemo(() => scaleMarks(build), [build]);
  const draw = useCallback((width: number) => drawTemperatureScale(anchors, marks, width), [anchors, marks]);
  return (
    <section>
      <h3>Temperature, °C</h3>
      <DrawingView draw={draw} />
      <p>
        One scale on every page: it starts at the design ambient; straw turns to ochre at the lowest limit.
      </p>
    </section>
  );
}

function scaleMarks(build: Build): { level_C: number; words: string }[] {
  const limits = build.limits
    .filter(({ where, level }) => where === 'cell' && level === 'stop')
    .map(({ limit_C, state }) => ({ level_C: limit_C, words: state === 'any' ? 'limit' : state }));
  const ambient_C = build.designAmbient?.ambient_C;
  return ambient_C === undefined ? limits : [{ level_C: ambient_C, words: 'ambient' }, ...limits];
}
