import {
  drawField,
  type FieldDrawing,
  type FieldView,
  type KnotField,
  knotsOfCells,
  levelAt,
  placeInFrame,
} from '@soakbench/core/drawing';
import { formatCelsius, formatNumber } from '@soakbench/core/measure';
import { useEffect, useId, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { shapeNode } from '../parts/shape-node.js';
import { DataTable, TableFold } from '../parts/table.js';
import { paintCanvas, useTemperatureTable } from './paint-canvas.js';

interface FieldFigureProps {
  readonly view: FieldView;
  /** Counts what was shown, for those who measure how long it takes. */
  readonly count: number;
}

/** A plane of the field: painted on a canvas, with lines, outlines and probes laid over it, and the value under the pointer. */
export function FieldFigure({ view, count }: FieldFigureProps) {
  const box = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [width, setWidth] = useState(0);
  const [pointed, setPointed] = useState<string | null>(null);
  const prefix = useId();
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return undefined;
    const measure = () => setWidth(Math.floor(element.clientWidth));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);

  const table = useTemperatureTable(view.anchors);
  const knots = useMemo(() => knotsOfCells(view.x_mm, view.y_mm, view.level_C), [view]);
  const drawing = useMemo(() => (width > 0 ? drawField(view, width, false) : null), [view, width]);
  useLayoutEffect(() => {
    if (canvas.current && drawing) paint(canvas.current, drawing, knots, view, table, count);
  }, [drawing, knots, table, count]);
  // A new field under a resting pointer has other values.
  useEffect(() => setPointed(null), [view.kind]);

  const point = (event: PointerEvent) => {
    if (!drawing || !box.current) return;
    const { left, top } = box.current.getBoundingClientRect();
    const place = placeInFrame(drawing.frame, event.clientX - left, event.clientY - top);
    setPointed(place === null ? null : pointWords(view, knots, place));
  };
  return (
    <>
      <div
        ref={box}
        class="drawing fieldbox"
        style={drawing ? { height: `${drawing.height}px` } : undefined}
        onPointerMove={point}
        onPointerDown={point}
        onPointerLeave={() => setPointed(null)}
      >
        {drawing && (
          <>
            <canvas
              ref={canvas}
              style={{
                left: `${drawing.frame.left}px`,
                top: `${drawing.frame.top}px`,
                width: `${drawing.frame.width}px`,
                height: `${drawing.frame.height}px`,
              }}
            />
            <svg
              class="d"
              role="img"
              aria-label={drawing.label}
              width={drawing.width}
              height={drawing.height}
              viewBox={`0 0 ${drawing.width} ${drawing.height}`}
            >
              {drawing.shapes.map((shape) => shapeNode(shape, prefix))}
            </svg>
          </>
        )}
      </div>
      <p class="small pointed">{pointed ?? restWords(view, drawing)}</p>
      <TableFold title="The field as a table">{() => <FieldTable view={view} knots={knots} />}</TableFold>
    </>
  );
}

/**
 * Pixels of the page along one that is painted. Between the middles of cells, which lie four of these and more apart, the field runs straight;
 * the browser smooths what is left, and a hand that drags waits for a quarter of the work.
 */
const grain_px = 2;

function paint(
  canvas: HTMLCanvasElement,
  { frame }: FieldDrawing,
  knots: KnotField,
  view: FieldView,
  table: Uint32Array,
  count: number,
): void {
  const size = {
    width_px: Math.max(1, Math.round(frame.width / grain_px)),
    height_px: Math.max(1, Math.round(frame.height / grain_px)),
    isDown: frame.isDown,
  };
  paintCanvas(canvas, knots, view, table, size);
  canvas.dataset['count'] = String(count);
}

function restWords({ kind }: FieldView, drawing: FieldDrawing | null): string {
  const step = drawing?.step_K ?? null;
  const lines = step === null ? 'Too even for lines' : `Lines each ${formatNumber(step, step < 1 ? 1 : 0)} K`;
  const stretch =
    drawing === null || kind === 'plan'
      ? ''
      : `, drawn ${formatNumber(drawing.stretch, Number.isInteger(drawing.stretch) ? 0 : 1)} : 1 in depth`;
  return `${lines}${stretch}. Point at a place for its value.`;
}

function pointWords(
  { kind, outlines }: FieldView,
  knots: KnotField,
  { x_mm, y_mm }: { x_mm: number; y_mm: number },
): string {
  const level = formatCelsius(levelAt(knots, x_mm, y_mm));
  const inside = outlines.filter(
    ({ name, x, y }) => name !== undefined && x[0] <= x_mm && x_mm <= x[1] && y[0] <= y_mm && y_mm <= y[1],
  );
  const part = inside.at(-1)?.name;
  const place =
    kind === 'plan'
      ? `${formatNumber(x_mm, 0)} mm from the left, ${formatNumber(y_mm, 0)} mm from below`
      : `${formatNumber(x_mm, 0)} mm from the left, ${formatNumber(y_mm, 1)} mm deep`;
  return `${level} at ${place}${part === undefined ? '' : `, in the ${part}`}.`;
}

const tableColumns = 7;

/** Places evenly spread, or for a section the middle of each part down its height. */
function FieldTable({ view, knots }: { readonly view: FieldView; readonly knots: KnotField }) {
  const length = view.x_mm.at(-1) as number;
  const across = view.y_mm.at(-1) as number;
  const along = Array.from({ length: tableColumns }, (_, index) => ((index + 0.5) * length) / tableColumns);
  const rows =
    view.kind === 'plan'
      ? [5, 4, 3, 2, 1].map((row) => {
          const at = ((row - 0.5) * across) / 5;
          return { at, name: `${formatNumber(at, 0)} mm from below` };
        })
      : sectionRows(view);
  return (
    <DataTable
      label={view.kind === 'plan' ? 'The plan as a table, °C' : 'The section as a table, °C'}
      columns={[{ title: '°C' }, ...along.map((at) => ({ title: `${formatNumber(at, 0)} mm`, right: true }))]}
      rows={rows.map(({ at, name }) => ({
        key: name,
        cells: [name, ...along.map((x) => formatNumber(levelAt(knots, x, at), 1))],
      }))}
    />
  );
}

function sectionRows({ outlines, y_mm }: FieldView): { at: number; name: string }[] {
  const named = outlines.flatMap(({ name, y }) =>
    name === undefined ? [] : [{ at: (y[0] + y[1]) / 2, name }],
  );
  const depth = y_mm.at(-1) as number;
  return [
    { at: 0, name: 'front, outside' },
    ...named.sort((one, other) => one.at - other.at),
    { at: depth, name: 'back, outside' },
  ];
}
