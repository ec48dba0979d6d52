import type { Shape } from '@soakbench/core/drawing';
import { type ComponentChildren, createElement, type VNode } from 'preact';

/**
 * A shape from `core` as an element of the page.
 *
 * @param prefix set before every id in it, so that two drawings on one page keep their own clips and hatches
 */
export function shapeNode(shape: Shape, prefix: string): VNode {
  const attrs: Record<string, string | number> = {};
  for (const [key, value] of Object.entries(shape.attrs)) attrs[key] = ownId(key, value, prefix);
  const inner: ComponentChildren[] = (shape.children ?? []).map((child) => shapeNode(child, prefix));
  if (shape.text !== undefined) inner.unshift(shape.text);
  return createElement(shape.tag, attrs, ...inner);
}

function ownId(key: string, value: string | number, prefix: string): string | number {
  if (key === 'id') return `${prefix}-${value}`;
  return typeof value === 'string' && value.includes('url(#')
    ? value.replace(/url\(#/g, `url(#${prefix}-`)
    : value;
}
