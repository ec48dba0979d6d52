import type { Drawing } from '@soakbench/core/drawing';
import type { ComponentChildren } from 'preact';
import { useId, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { shapeNode } from './shape-node.js';

interface DrawingViewProps {
  /** Lays the drawing out for a width in CSS pixels: text is never scaled, so every width is laid out anew. */
  readonly draw: (width: number) => Drawing;
  /** Things to drag or to touch, laid over the drawing in the same coordinates. */
  readonly overlay?: (drawing: Drawing) => ComponentChildren;
  readonly class?: string;
}

/** A drawing from `core`, drawn for the width the page gives it and drawn again when that width changes. */
export function DrawingView({ draw, overlay, class: className }: DrawingViewProps) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
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

  const drawing = useMemo(() => (width > 0 ? draw(width) : null), [draw, width]);
  return (
    <div ref={box} class={className ? `drawing ${className}` : 'drawing'}>
      {drawing && <DrawingSvg drawing={drawing} prefix={prefix} overlay={overlay?.(drawing)} />}
    </div>
  );
}

interface DrawingSvgProps {
  readonly drawing: Drawing;
  /** Set before every id inside the drawing, so that two drawings on one page keep their own clips and hatches. */
  readonly prefix: string;
  readonly overlay?: ComponentChildren;
}

function DrawingSvg({ drawing, prefix, overlay }: DrawingSvgProps) {
  const { width, height, label, shapes } = drawing;
  const body = shapes.map((shape) => shapeNode(shape, prefix));
  const frame = { class: 'd', width, height, viewBox: `0 0 ${width} ${height}` };
  // An image hides what lies inside it from assistive technology; with handles on it, only the picture is the image.
  if (overlay === undefined || overlay === null) {
    return (
      <svg {...frame} role="img" aria-label={label}>
        {body}
      </svg>
    );
  }
  return (
    // biome-ignore lint/a11y/noSvgWithoutTitle: the picture inside carries the label
    <svg {...frame}>
      {/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: a group of shapes is not interactive */}
      <g role="img" aria-label={label}>
        {body}
      </g>
      {overlay}
    </svg>
  );
}
