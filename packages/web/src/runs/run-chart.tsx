import {
  type Drawing,
  drawRunChart,
  type RunChartScales,
  type RunChartView,
  RunChartWindows,
  runChartScales,
} from '@soakbench/core/drawing';
import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { DrawingView } from '../parts/drawing.js';
import { clockWords } from './clock-words.js';
import {
  limitRange,
  moveLimit,
  nearestRow,
  type PhaseLimit,
  type PhaseSpan,
  phaseLimits,
  stepRows,
} from './move-limit.js';
import { useChartWindow } from './use-chart-window.js';

interface RunChartProps {
  readonly view: RunChartView;
  /** Usual spacing of the rows: phases that meet this closely share a limit, and none gets shorter than two rows. */
  readonly interval_s: number;
  /** Called once a limit has come to rest. */
  readonly onPhases: (phases: readonly PhaseSpan[]) => void;
}

/** A limit on its way: moved, but not yet kept. */
interface Moving {
  readonly key: string;
  readonly at_s: number;
}

/** Keys come in bursts; the limit is kept when the burst is over, so that one correction is one step of undo. */
const rest_ms = 700;
const hitRoom_px = 13;

/** The log of a run with its phase limits to drag, by pointer or by the arrow keys (one row, with shift ten). */
export function RunChart({ view, interval_s, onPhases }: RunChartProps) {
  const [moving, setMoving] = useState<Moving | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const latest = useRef<Moving | null>(null);
  latest.current = moving;
  const limits = phaseLimits(view.phases, 1.5 * interval_s);

  const keep = useCallback(() => {
    clearTimeout(timer.current);
    const now = latest.current;
    const limit = limits.find(({ key }) => key === now?.key);
    latest.current = null;
    setMoving(null);
    if (now === null || limit === undefined || now.at_s === limit.at_s) return;
    const range = limitRange(view.phases, limit, view.span_s, 2 * interval_s);
    onPhases(moveLimit(view.phases, limit, now.at_s, range));
  }, [limits, view, interval_s, onPhases]);

  // Going to another page ends the burst as well: what was moved is kept.
  const keepLast = useRef(keep);
  keepLast.current = keep;
  useEffect(() => () => keepLast.current(), []);

  const move = (limit: PhaseLimit, at_s: number) => {
    const [low, high] = limitRange(view.phases, limit, view.span_s, 2 * interval_s);
    const next = { key: limit.key, at_s: Math.max(low, Math.min(high, at_s)) };
    latest.current = next;
    setMoving(next);
  };

  const onKey = (event: KeyboardEvent, limit: PhaseLimit) => {
    const from_s = moving?.key === limit.key ? moving.at_s : limit.at_s;
    const to_s = keyTarget(event, view, from_s);
    if (to_s === null) {
      if (event.key === 'Enter') keep();
      if (event.key === 'Escape') {
        clearTimeout(timer.current);
        latest.current = null;
        setMoving(null);
      }
      return;
    }
    event.preventDefault();
    move(limit, to_s);
    clearTimeout(timer.current);
    timer.current = setTimeout(() => keepLast.current(), rest_ms);
  };

  const windows = useMemo(() => new RunChartWindows(view), [view]);
  const drawn = useRef<RunChartScales | null>(null);
  const shown = useChartWindow(view.span_s, Math.min(view.span_s, 20 * interval_s), drawn);
  const { window_s } = shown;
  const last = useRef<{
    windows: RunChartWindows;
    window_s: unknown;
    width: number;
    view: RunChartView;
  } | null>(null);
  /** Drawing and grips ask for the same window one after the other; it is made once. */
  const seen = useCallback(
    (width: number) => {
      if (window_s === null) return view;
      const kept = last.current;
      if (kept?.windows === windows && kept.window_s === window_s && kept.width === width) return kept.view;
      const made = windows.over(window_s, width);
      last.current = { windows, window_s, width, view: made };
      return made;
    },
    [view, windows, window_s],
  );
  const draw = useCallback((width: number) => drawRunChart(seen(width), width), [seen]);
  const overlay = (drawing: Drawing) => {
    const at = runChartScales(seen(drawing.width), drawing.width);
    drawn.current = at;
    return limits.map((limit) => {
      const at_s = moving?.key === limit.key ? moving.at_s : limit.at_s;
      if (at_s < at.from_s || at_s > at.to_s) return null;
      const x = Math.round(at.x(at_s)) + 0.5;
      const drag = (event: PointerEvent) => {
        const svg = (event.currentTarget as Element).closest('svg');
        if (!svg) return;
        const time_s = at.invert(event.clientX - svg.getBoundingClientRect().left);
        move(limit, view.after_s[nearestRow(view.after_s, time_s)] ?? time_s);
      };
      return (
        <g
          key={limit.key}
          class={moving?.key === limit.key ? 'phasegrip moving' : 'phasegrip'}
          role="slider"
          tabIndex={0}
          aria-label={limit.words}
          aria-orientation="horizontal"
          aria-valuemin={0}
          aria-valuemax={Math.round(view.span_s)}
          aria-valuenow={Math.round(at_s)}
          aria-valuetext={`${clockWords(at_s)} after the start`}
          onKeyDown={(event) => onKey(event, limit)}
          onBlur={keep}
          onPointerDown={(event) => {
            if (event.button !== 0) return;
            event.currentTarget.setPointerCapture(event.pointerId);
            setMoving({ key: limit.key, at_s: limit.at_s });
          }}
          onPointerMove={(event) => event.currentTarget.hasPointerCapture(event.pointerId) && drag(event)}
          onPointerUp={(event) => {
            event.currentTarget.releasePointerCapture(event.pointerId);
            keep();
          }}
          onPointerCancel={() => setMoving(null)}
        >
          <rect
            class="hit"
            x={x - hitRoom_px}
            y={at.top}
            width={2 * hitRoom_px}
            height={at.bottom - at.top}
          />
          <path
            class={limit.ends === null || limit.begins === null ? 'ac outer' : 'ac'}
            d={`M${x} ${at.top}V${at.bottom}`}
          />
          <rect class="acf body" x={x - 7} y={at.top} width="14" height="22" rx="2" />
          <path class="ridge" d={`M${x - 2} ${at.top + 6}v10M${x + 2} ${at.top + 6}v10`} />
          {moving?.key === limit.key && (
            <text class="a b halo m" x={Math.max(at.left + 24, Math.min(at.right - 24, x))} y={at.bottom - 8}>
              {clockWords(at_s)}
            </text>
          )}
        </g>
      );
    });
  };
  return (
    <>
      <div ref={shown.field} class={window_s === null ? 'chartfield' : 'chartfield part'}>
        <DrawingView draw={draw} overlay={overlay} class="runchart" />
      </div>
      <p class="btns chartwindow">
        {shown.acts.map(({ words, act, can }) => (
          <button
            key={words}
            type="button"
            class="btn"
            aria-disabled={can ? undefined : 'true'}
            onClick={act}
          >
            {words}
          </button>
        ))}
        <span class="small" role="status">
          {window_s === null ? '' : `${clockWords(window_s[0])} to ${clockWords(window_s[1])} is shown.`}
        </span>
      </p>
    </>
  );
}

/** Where a key takes a limit; null for a key that does not move it. */
function keyTarget(event: KeyboardEvent, view: RunChartView, from_s: number): number | null {
  const rows = event.shiftKey ? 10 : 1;
  switch (event.key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return stepRows(view.after_s, from_s, rows);
    case 'ArrowLeft':
    case 'ArrowDown':
      return stepRows(view.after_s, from_s, -rows);
    case 'PageUp':
      return stepRows(view.after_s, from_s, 60);
    case 'PageDown':
      return stepRows(view.after_s, from_s, -60);
    case 'Home':
      return 0;
    case 'End':
      return view.span_s;
    default:
      return null;
  }
}
