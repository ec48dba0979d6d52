/** Where the pictures cannot stay in sight, as on a phone: a small section and the figures that decide, at the foot of the window. */
import { type FieldOutline, type FieldView, knotsOfCells } from '@soakbench/core/drawing';
import { formatNumber } from '@soakbench/core/measure';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { LevelShape } from '../parts/level.js';
import { paintCanvas, useTemperatureTable } from './paint-canvas.js';
import type { LiveMargin, LiveRow } from './present-live.js';

/** Windows in which the pictures scroll away; `pages.css` keeps them in sight in all others. */
const scrollsAway = 'not all and (min-width: 64rem) and (min-height: 45rem)';

/** True where the pictures scroll away from the dials. */
export function useScrollsAway(): boolean {
  const [is, setIs] = useState(() => matchMedia(scrollsAway).matches);
  useEffect(() => {
    const query = matchMedia(scrollsAway);
    const follow = () => setIs(query.matches);
    follow();
    query.addEventListener('change', follow);
    return () => query.removeEventListener('change', follow);
  }, []);
  return is;
}

interface LiveBarProps {
  readonly section: FieldView;
  readonly rows: readonly LiveRow[];
  readonly margins: readonly LiveMargin[];
  readonly room_mm: number;
  readonly baseline: string;
  readonly isProvisional: boolean;
  /** Why the set-up that was wished cannot be; null where it can. */
  readonly fault: string | null;
}

/** The same figures stand in the tables, which tell them to those who do not see. */
export function LiveBar(props: LiveBarProps) {
  const { section, rows, margins, room_mm, baseline, isProvisional, fault } = props;
  const hottest = hottestCell(rows);
  const tightest = margins.find(({ isStop }) => isStop);
  return (
    <div class={isProvisional ? 'livebar provisional' : 'livebar'} aria-hidden="true">
      <SmallSection view={section} />
      <div>
        {hottest && (
          <p>
            <b>{hottest.level}</b> {hottest.doubt} °C hottest cell
            <br />
            {hottest.against} K against {baseline}
          </p>
        )}
        {fault === null ? (
          <p>
            {tightest && (
              <>
                <LevelShape level={tightest.level} /> {tightest.margin} below {tightest.limit_C} °C,{' '}
              </>
            )}
            {formatNumber(room_mm, 2)} mm left
          </p>
        ) : (
          <p>
            <LevelShape level="stop" /> Cannot be: {fault}
          </p>
        )}
      </div>
    </div>
  );
}

function hottestCell(rows: readonly LiveRow[]): LiveRow | undefined {
  return rows
    .filter(({ id, kind }) => kind === 'hottest' && id.startsWith('cell-'))
    .reduce<LiveRow | undefined>(
      (most, each) => (most === undefined || Number(each.level) > Number(most.level) ? each : most),
      undefined,
    );
}

/** Pixels that are painted; the page scales them to the room there is. */
const painted = { width_px: 96, height_px: 54, isDown: true } as const;

/** Field and outlines alone: at this size lines and words only hide one another. */
function SmallSection({ view }: { readonly view: FieldView }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const table = useTemperatureTable(view.anchors);
  useLayoutEffect(() => {
    const knots = knotsOfCells(view.x_mm, view.y_mm, view.level_C);
    if (canvas.current) paintCanvas(canvas.current, knots, view, table, painted);
  }, [view, table]);
  const [width_mm, depth_mm] = [view.x_mm.at(-1) as number, view.y_mm.at(-1) as number];
  return (
    <div class="smallsection">
      <canvas ref={canvas} />
      <svg class="d" aria-hidden="true" viewBox={`0 0 ${width_mm} ${depth_mm}`} preserveAspectRatio="none">
        {view.outlines.map((outline, index) => (
          <Outline key={index} outline={outline} />
        ))}
      </svg>
    </div>
  );
}

function Outline({ outline: { x, y } }: { readonly outline: FieldOutline }) {
  return <rect x={x[0]} y={y[0]} width={x[1] - x[0]} height={y[1] - y[0]} />;
}
