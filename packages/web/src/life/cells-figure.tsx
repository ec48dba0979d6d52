import { drawSection } from '@soakbench/core/drawing';
import { type LifeForecast, presentCells } from '@soakbench/core/life';
import type { Build } from '@soakbench/core/records';
import { presentSection } from '@soakbench/core/verdict';
import { useCallback, useMemo } from 'preact/hooks';
import { DrawingView } from '../parts/drawing.js';

interface CellsProps {
  readonly build: Build;
  readonly forecast: LifeForecast;
  readonly setup: string;
}

/** The section with one set-up, and in each cell how often it is the one that gives out first. */
export function CellsFigure({ build, forecast, setup }: CellsProps) {
  const view = useMemo(() => {
    const section = presentSection(build, setup).section?.view;
    const wear = presentCells(forecast).find((each) => each.setup === setup);
    if (section === undefined || wear === undefined || section.cells.length !== wear.cells.length)
      return null;
    const words = wear.cells.map(({ cell, first }) => `cell ${cell} · gives out first in ${first}`);
    const label = `Section with ${wear.name}: ${words.join(', ')}.`;
    return { ...section, label, cells: words, probes: [] };
  }, [build, forecast, setup]);
  const draw = useCallback((width: number) => drawSection(view as NonNullable<typeof view>, width), [view]);
  return (
    view && (
      <figure>
        <DrawingView draw={draw} />
      </figure>
    )
  );
}
