import { useEffect, useRef, useState } from 'preact/hooks';

interface DragOrder {
  /** For the list element whose items are dragged. */
  readonly list: { current: HTMLOListElement | null };
  /** The item that is held; null when none is. */
  readonly lifted: number | null;
  /** Where it would be put down. */
  readonly target: number | null;
  /** Handlers of an item's grip. */
  grip(index: number): {
    readonly onPointerDown: (event: PointerEvent) => void;
    readonly onPointerMove: (event: PointerEvent) => void;
    readonly onPointerUp: () => void;
    readonly onPointerCancel: () => void;
    readonly onKeyDown: (event: KeyboardEvent) => void;
  };
}

/** Reordering a list by its grips: dragged with a pointer, or moved with the arrow keys. The cursor follows the item. */
export function useDragOrder(count: number, onMove: (from: number, to: number) => void): DragOrder {
  const list = useRef<HTMLOListElement>(null);
  const [held, setHeld] = useState<{ readonly from: number; readonly to: number } | null>(null);
  const follow = useRef<number | null>(null);

  useEffect(() => {
    if (follow.current === null) return;
    gripsOf(list.current)[follow.current]?.focus();
    follow.current = null;
  });

  const move = (from: number, to: number) => {
    if (to < 0 || to >= count || to === from) return;
    follow.current = to;
    onMove(from, to);
  };
  const grip: DragOrder['grip'] = (index) => ({
    onPointerDown: (event) => {
      if (event.button !== 0) return;
      (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
      setHeld({ from: index, to: index });
    },
    onPointerMove: (event) => {
      if (held === null) return;
      setHeld({ from: held.from, to: placeAt(list.current, event.clientY, count) });
    },
    onPointerUp: () => {
      if (held !== null) move(held.from, held.to);
      setHeld(null);
    },
    onPointerCancel: () => setHeld(null),
    onKeyDown: (event) => {
      if (event.key === 'Escape') setHeld(null);
      const step = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : 0;
      if (step === 0) return;
      event.preventDefault();
      move(index, index + step);
    },
  });
  return { list, lifted: held?.from ?? null, target: held && held.to !== held.from ? held.to : null, grip };
}

function gripsOf(list: HTMLOListElement | null): readonly HTMLElement[] {
  return [...(list?.querySelectorAll<HTMLElement>('.grip') ?? [])];
}

/** The item under a height in the window; above the first is the first, below the last is the last. */
function placeAt(list: HTMLOListElement | null, clientY: number, count: number): number {
  const rows = gripsOf(list).map((grip) => grip.closest('li')?.getBoundingClientRect());
  const index = rows.findIndex((row) => row !== undefined && clientY < row.bottom);
  return index === -1 ? count - 1 : Math.min(index, count - 1);
}
