import { LevelWord } from '../parts/level.js';
import { DataTable } from '../parts/table.js';
import type { LiveMargin, LiveRow } from './present-live.js';

interface LiveNumbersProps {
  readonly rows: readonly LiveRow[];
  readonly margins: readonly LiveMargin[];
  readonly baseline: string;
  readonly ambient: string;
  readonly room: string;
  /** What is shown is still on its way: no figure has its interval. */
  readonly isProvisional: boolean;
}

/** What follows the hand: the margins, temperatures beside the baseline’s, and what is left in the bay. */
export function LiveNumbers(props: LiveNumbersProps) {
  const { rows, margins, baseline, ambient, room, isProvisional } = props;
  return (
    <div class={isProvisional ? 'live provisional' : 'live'}>
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
      <p class="small">{room}</p>
    </div>
  );
}
