import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

export interface Column {
  readonly title: ComponentChildren;
  /** Figures stand to the right. */
  readonly right?: boolean;
}

export interface Row {
  readonly key: string;
  /** The first cell heads the row. */
  readonly cells: readonly ComponentChildren[];
  /** The row the page speaks of. */
  readonly pick?: boolean;
}

interface DataTableProps {
  readonly caption?: ComponentChildren;
  /** Names the table where the caption is long or absent. */
  readonly label?: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  readonly class?: string;
}

/** Rules between rows only, figures to the right; a table wider than its column scrolls by itself, also by keyboard. */
export function DataTable({ caption, label, columns, rows, class: className }: DataTableProps) {
  return (
    <section
      class="scroll"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
      tabIndex={0}
      aria-label={label ?? (typeof caption === 'string' ? caption : 'Table')}
    >
      <table class={className}>
        {caption && <caption>{caption}</caption>}
        <thead>
          <tr>
            {columns.map((column, index) => (
              <th key={index} scope="col" class={column.right ? 'r' : undefined}>
                {column.title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.key} class={row.pick ? 'pick' : undefined}>
              {row.cells.map((cell, index) => {
                const className = columns[index]?.right ? 'r' : undefined;
                return index === 0 ? (
                  <th key={index} scope="row" class={className}>
                    {cell}
                  </th>
                ) : (
                  <td key={index} class={className}>
                    {cell}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

interface TableFoldProps {
  readonly children: ComponentChildren | (() => ComponentChildren);
  readonly title?: string;
}

/** A chart's numbers, folded away beneath it. Given as a function they are laid out only while the fold is open: for what changes with every move of a hand. */
export function TableFold({ children, title = 'The same as a table' }: TableFoldProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details class="data" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {typeof children === 'function' ? isOpen && children() : children}
    </details>
  );
}
