import type { Build, Probe, Recipe } from '@soakbench/core/records';
import { ChoiceField } from '../parts/fields.js';
import { setChannel } from './import-draft.js';
import { columnName } from './recipe-fields.js';

interface ChannelListProps {
  readonly build: Pick<Build, 'probes'>;
  readonly recipe: Recipe;
  readonly headers: readonly string[];
  /** The first rows as they stand in the file. */
  readonly rows: readonly (readonly string[])[];
  readonly onRecipe: (recipe: Recipe) => void;
  /** Makes a probe for a column; absent where the build may not be changed. */
  readonly onNewProbe?: (column: number, header: string, place: Probe['place']) => void;
}

const newProbes: readonly (readonly [Probe['place'], string])[] = [
  ['cell', 'new probe on a cell'],
  ['zone', 'new probe on a zone'],
  ['ambient', 'new probe in the room’s air'],
  ['shell', 'new probe on the shell'],
];

const scales = [
  [0.1, 'tenths of '],
  [0.01, 'hundredths of '],
  [0.001, 'thousandths of '],
] as const;
const unitNames = [
  ['C', '°C'],
  ['F', '°F'],
  ['K', 'K'],
] as const;
const units = [
  ...unitNames.map(([unit, words]) => ({
    key: unit as string,
    unit,
    scale: undefined,
    words: words as string,
  })),
  ...scales.flatMap(([scale, parts]) =>
    unitNames.map(([unit, words]) => ({ key: `${unit}${scale}`, unit, scale, words: `${parts}${words}` })),
  ),
];

/** Every column that is not the time: what stands in it, its unit, and the probe it belongs to. */
export function ChannelList({ build, recipe, headers, rows, onRecipe, onNewProbe }: ChannelListProps) {
  const width = Math.max(headers.length, ...rows.map((row) => row.length), 0);
  const timeColumns = recipe.time.style === 'interval' ? [] : recipe.time.columns;
  const columns = Array.from({ length: width }, (_, column) => column).filter(
    (column) => !timeColumns.includes(column),
  );
  const options = [
    ...build.probes.map(({ id, name }) => [id, name] as const),
    ...(onNewProbe ? newProbes.map(([place, words]) => [`+${place}`, words] as const) : []),
  ];
  return (
    <ul class="channels">
      {columns.map((column) => {
        const channel = recipe.channels.find((each) => each.column === column);
        const header = headers[column] ?? '';
        const sample = rows.slice(0, 3).map((row) => row[column] || 'empty');
        const choose = (value: string | undefined) => {
          if (value?.startsWith('+')) onNewProbe?.(column, header, value.slice(1) as Probe['place']);
          else onRecipe(setChannel(recipe, column, header, { probe: value }));
        };
        return (
          <li key={column}>
            <div>
              <h4>{columnName(column, headers)}</h4>
              <p class="small">{sample.join(' · ')}</p>
            </div>
            <ChoiceField
              label={`Probe of ${columnName(column, headers)}`}
              value={channel?.probe}
              none="not used"
              options={options}
              onValue={choose}
            />
            <ChoiceField
              label="Unit"
              value={
                channel?.scale === undefined ? (channel?.unit ?? 'C') : `${channel.unit}${channel.scale}`
              }
              options={units.map(({ key, words }) => [key, words])}
              onValue={(key) => {
                const chosen = units.find((each) => each.key === key);
                onRecipe(
                  setChannel(recipe, column, header, { unit: chosen?.unit ?? 'C', scale: chosen?.scale }),
                );
              }}
            />
          </li>
        );
      })}
    </ul>
  );
}
