import type { ComponentChildren } from 'preact';

/** What a drawing must say about itself: section, stretch, grid, set-up, state, ambient. */
export function TitleBlock({
  rows,
}: {
  readonly rows: readonly (readonly [label: string, value: ComponentChildren])[];
}) {
  return (
    <dl class="tb">
      {rows.map(([label, value]) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
