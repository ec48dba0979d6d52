/**
 * A drawing as data: the same shapes become live elements on a page and inline SVG in a dossier.
 * Text is never scaled, so a drawing is laid out anew for the width it gets (in CSS pixels).
 */
export interface Shape {
  readonly tag:
    | 'g'
    | 'path'
    | 'rect'
    | 'line'
    | 'circle'
    | 'text'
    | 'tspan'
    | 'polygon'
    | 'title'
    | 'defs'
    | 'pattern'
    | 'clipPath';
  readonly attrs: Readonly<Record<string, string | number>>;
  readonly children?: readonly Shape[];
  readonly text?: string;
}

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What the drawing shows, for those who do not see it: a sentence with its numbers. */
  readonly label: string;
  readonly shapes: readonly Shape[];
}

function escapeXml(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}

function shapeText(shape: Shape): string {
  const attrs = Object.entries(shape.attrs)
    .map(([key, value]) => ` ${key}="${escapeXml(String(value))}"`)
    .join('');
  const inner =
    (shape.text === undefined ? '' : escapeXml(shape.text)) + (shape.children ?? []).map(shapeText).join('');
  return inner === '' ? `<${shape.tag}${attrs}/>` : `<${shape.tag}${attrs}>${inner}</${shape.tag}>`;
}

/** The drawing as an SVG element for a document without scripts. */
export function drawingText(drawing: Drawing): string {
  const { width, height, label, shapes } = drawing;
  return `<svg class="d" role="img" aria-label="${escapeXml(label)}" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" xmlns="http://www.w3.org/2000/svg">${shapes.map(shapeText).join('')}</svg>`;
}
