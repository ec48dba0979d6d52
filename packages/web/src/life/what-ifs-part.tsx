import { type DutyChange, presentWhatIfs, type WhatIfRow, type WhatIfs } from '@soakbench/core/life';
import { formatPercent } from '@soakbench/core/measure';
import type { DutyYear } from '@soakbench/core/records';
import { useEffect, useId, useState } from 'preact/hooks';
import { useBench } from '../api/bench.js';
import { ChoiceField } from '../parts/fields.js';
import { scrollNotDrag } from '../parts/scroll-not-drag.js';
import { DataTable } from '../parts/table.js';
import { type Habits, habitsChange, habitsOf, habitsWords, isSame } from './present-habits.js';

interface WhatIfsProps {
  readonly duty: DutyYear;
  /** Where charging stops as it is, as a share. */
  readonly limit: number;
  readonly setups: readonly { readonly setup: string; readonly name: string }[];
  readonly setup: string;
  readonly onSetup: (setup: string) => void;
  readonly whatIfs: WhatIfs | null;
}

/** Other habits beside these ones. What is dragged is weighed as it is dragged, and changes nothing in the build. */
export function WhatIfsPart({ duty, limit, setups, setup, onSetup, whatIfs }: WhatIfsProps) {
  const { life } = useBench();
  const asItIs = habitsOf(duty, limit);
  const [habits, setHabits] = useState<Habits>(asItIs);
  const start = JSON.stringify(asItIs);
  useEffect(() => setHabits(asItIs), [start]);
  const change: DutyChange | null = isSame(habits, asItIs) ? null : habitsChange(habits);
  const key = JSON.stringify([setup, change, start]);
  useEffect(() => {
    if (change === null) life.forgetChange();
    else life.weigh(setup, change);
  }, [life, key]);

  const table = whatIfs && presentWhatIfs(whatIfs);
  const changed = life.changed.value && change && presentWhatIfs(life.changed.value).rows[1];
  const [first, ...others] = table?.rows ?? [];
  // Without a price of the pack the column would only say so in every row.
  const hasCost = table?.rows.some(({ costPerYear }) => costPerYear !== '') === true;
  const set = (part: Partial<Habits>) => setHabits((before) => ({ ...before, ...part }));
  return (
    <section class="part">
      <h2>What if</h2>
      <p class="lead">
        {table?.answer ?? 'Asking what other habits would do …'} Ratios are held against the same packs as
        they are used now; they are firmer than the years.
      </p>
      <div class="fields">
        <ChoiceField
          label="In the set-up"
          value={setup}
          options={setups.map((each) => [each.setup, each.name] as const)}
          onValue={(value) => value !== undefined && onSetup(value)}
          required
        />
      </div>
      <div class="habits">
        <Slider
          label="Charge to"
          value={habits.limit}
          from={Math.max(0.5, (duty.charging.lowest ?? 0) + 0.05)}
          to={1}
          step={0.01}
          words={formatPercent(habits.limit)}
          onValue={(value) => set({ limit: value })}
        />
        <Slider
          label="Room"
          value={habits.room_K}
          from={-15}
          to={15}
          step={0.5}
          words={habitsWords.room(habits.room_K)}
          onValue={(value) => set({ room_K: value })}
        />
        <Slider
          label="Hours of use"
          value={habits.hours}
          from={0.25}
          to={2}
          step={0.05}
          words={habitsWords.hours(habits.hours)}
          onValue={(value) => set({ hours: value })}
        />
        <label class="tick">
          <input
            type="checkbox"
            checked={habits.unplugAtFull}
            onChange={(event) => set({ unplugAtFull: event.currentTarget.checked })}
          />{' '}
          unplug when full
        </label>
        <button type="button" class="btn" disabled={change === null} onClick={() => setHabits(asItIs)}>
          As it is again
        </button>
      </div>
      <p class="vh" role="status">
        {changed ? `As set here: ${changed.years}, ${changed.ratio} as long.` : ''}
      </p>
      {first && (
        <DataTable
          class="whatifs"
          caption="What if: years to 80 % and what the pack gives until then"
          columns={[
            { title: 'change' },
            { title: 'to 80 %', right: true },
            { title: 'times as long', right: true },
            { title: 'until then', right: true },
            { title: 'on a charge', right: true },
            ...(hasCost ? [{ title: 'cost', right: true }] : []),
          ]}
          rows={[
            rowOf(first, hasCost),
            {
              key: 'asked',
              pick: true,
              cells:
                changed && change
                  ? rowOf(changed, hasCost).cells
                  : [
                      change ? 'as set here: being weighed' : 'as set here: move a slider',
                      '',
                      '',
                      '',
                      '',
                      ...(hasCost ? [''] : []),
                    ],
            },
            ...others.map((row) => rowOf(row, hasCost)),
          ]}
        />
      )}
      {table && table.leftOut.length > 0 && <p class="small">Left out: {table.leftOut.join(' ')}</p>}
    </section>
  );
}

function rowOf(
  { id, title, note, years, ratio, delivered, runTime, costPerYear }: WhatIfRow,
  hasCost: boolean,
) {
  return {
    key: id,
    cells: [
      <>
        {title}
        {note && <span class="small block">{note}</span>}
      </>,
      years,
      ratio.replace(/ times$/, ''),
      delivered,
      runTime,
      ...(hasCost ? [costPerYear] : []),
    ],
  };
}

interface SliderProps {
  readonly label: string;
  readonly value: number;
  readonly from: number;
  readonly to: number;
  readonly step: number;
  /** The value as it is said. */
  readonly words: string;
  readonly onValue: (value: number) => void;
}

/** A value to drag, or to move with the arrow keys. */
function Slider({ label, value, from, to, step, words, onValue }: SliderProps) {
  const id = useId();
  return (
    <div class="slider">
      <label class="lb" for={id}>
        {label}
      </label>
      <output for={id}>{words}</output>
      <input
        id={id}
        type="range"
        min={from}
        max={to}
        step={step}
        value={value}
        aria-valuetext={words}
        onInput={(event) => onValue(event.currentTarget.valueAsNumber)}
        {...scrollNotDrag(value, onValue)}
      />
    </div>
  );
}
