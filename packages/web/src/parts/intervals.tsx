import { drawIntervals, type IntervalView } from '@soakbench/core/drawing';
import { useCallback } from 'preact/hooks';
import { DrawingView } from './drawing.js';

/** Points with intervals, drawn for the width there is. */
export function IntervalsView({ view }: { readonly view: IntervalView }) {
  const draw = useCallback((width: number) => drawIntervals(view, width), [view]);
  return <DrawingView draw={draw} />;
}
