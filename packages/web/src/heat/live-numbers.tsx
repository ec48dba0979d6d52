import { formatNumber } from '@soakbench/core/measure';
import { LevelWord } from '../parts/level.js';
import { DataTable } from '../parts/table.js';
import type { LiveMargin, LiveRow } from './present-live.js';

interface LiveNumbersProps {
  readonly rows: readonly LiveRow[];
  readonly margins: readonly LiveMargin[];
  readonly baseline: string;
  readonly ambient: string;
  readonly room: string;
}

/** What follows the hand: temperatures beside the baseline’s, the margins, and what is left in the bay. */
export function LiveNumbers({ rows, margins, baseline, ambient, room }: LiveNumbersProps) {
  return (
    <div class="live">
      <DataTable
        class="tight"
        label={`Predicted temperatures in a room of ${ambient}`}
        columns={[
          { title: `in a room of ${ambient}` },
          { title: '°C', right: true },
          { title: 'doubt', right: true },
          { title: `K against ${baseline}`, right: true },
        ]}
        rows={rows.map(({ id, name, kind, level, doubt, against }) => ({
          key: id,
          cells: [name, kind === 'mean' ? level : <b key="v">{level}</b>, doubt, against],
        }))}
      />
      {margins.length > 0 && (
        <DataTable
          class="tight"
          label="Predicted margins at the design ambient"
          columns={[
            { title: 'at the design ambient' },
            { title: 'margin', right: true },
            { title: 'at least', right: true },
            { title: 'level' },
          ]}
          rows={margins.map(({ key, where, limit, margin, atLeast, level, word }) => ({
            key,
            cells: [
              <span key="w">
                {where}
                <br />
                <small>{limit}</small>
              </span>,
              margin,
              atLeast,
              <LevelWord key="l" level={level} word={word} />,
            ],
          }))}
        />
      )}
      <p class="small">{room}</p>
    </div>
  );
}

interface LiveBarProps {
  readonly rows: readonly LiveRow[];
  readonly room_mm: number;
  readonly baseline: string;
}

/** On a phone the numbers lie far below the dials: the two that decide stay at the foot of the window. */
export function LiveBar({ rows, room_mm, baseline }: LiveBarProps) {
  const cells = rows.filter(({ id, kind }) => kind === 'hottest' && id.startsWith('cell-'));
  const hottest = cells.reduce<LiveRow | undefined>(
    (most, each) => (most === undefined || Number(each.level) > Number(most.level) ? each : most),
    undefined,
  );
  if (hottest === undefined) return null;
  return (
    <p class="livebar" aria-hidden="true">
      <b>{hottest.level} °C</b> hottest cell, {hottest.against} K against {baseline},{' '}
      {formatNumber(room_mm, 2)} mm left
    </p>
  );
}
