import type { Build, ChannelUnit, Probe, Recipe, SensorFacts } from '@soakbench/core/records';
import { isRawUnit, unitNames } from '@soakbench/core/runs';
import { ChoiceField } from '../parts/fields.js';
import { setChannel } from './import-draft.js';
import { columnName } from './recipe-fields.js';

interface ChannelListProps {
  readonly build: Pick<Build, 'probes'>;
  readonly recipe: Recipe;
  readonly headers: readonly string[];
  /** The first rows as they stand in the file. */
  readonly rows: readonly (readonly string[])[];
  /** The first column that can be a channel: in long form those of a line itself, its name and its value, are none. */
  readonly first?: number;
  readonly onRecipe: (recipe: Recipe) => void;
  /** Makes a probe for a column; absent where the build may not be changed. */
  readonly onNewProbe?: (column: number, header: string, place: Probe['place']) => void;
  /** States the sensor of a probe whose raw signal the log holds; absent where the build may not be changed. */
  readonly onSensor?: (probe: Probe, sensor: SensorFacts) => void;
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
const temperatureUnits = ['C', 'F', 'K'] as const;
/** Every unit, and the temperatures once more in parts of a degree; a raw signal has no parts. */
const units = [
  ...(Object.keys(unitNames) as ChannelUnit[]).map((unit) => ({
    key: unit as string,
    unit,
    scale: undefined,
    words: unitNames[unit],
  })),
  ...scales.flatMap(([scale, parts]) =>
    temperatureUnits.map((unit) => ({
      key: `${unit}${scale}`,
      unit,
      scale,
      words: `${parts}${unitNames[unit]}`,
    })),
  ),
];

/** Every column that is not the time: what stands in it, its unit, and the probe it belongs to. */
export function ChannelList(props: ChannelListProps) {
  const { build, recipe, headers, rows, first = 0, onRecipe, onNewProbe, onSensor } = props;
  const width = Math.max(headers.length, ...rows.map((row) => row.length), 0);
  const timeColumns = recipe.time.style === 'interval' ? [] : recipe.time.columns;
  const columns = Array.from({ length: width }, (_, column) => column).filter(
    (column) => column >= first && !timeColumns.includes(column),
  );
  const options = [
    ...build.probes.map(({ id, name }) => [id, name] as const),
    ['+cold-junction', 'no probe: cold junction'] as const,
    ...(onNewProbe ? newProbes.map(([place, words]) => [`+${place}`, words] as const) : []),
  ];
  // In long form a channel is known by its name; its number is that of no column in the file.
  const titleOf = (column: number) => (first > 0 && headers[column]) || columnName(column, headers);
  return (
    <ul class="channels">
      {columns.map((column) => {
        const channel = recipe.channels.find((each) => each.column === column);
        const header = headers[column] ?? '';
        const probe = build.probes.find(({ id }) => id === channel?.probe);
        const sample = rows.slice(0, 3).map((row) => row[column] || 'empty');
        const choose = (value: string | undefined) => {
          if (value === '+cold-junction')
            onRecipe(setChannel(recipe, column, header, { probe: undefined, coldJunction: true }));
          else if (value?.startsWith('+')) onNewProbe?.(column, header, value.slice(1) as Probe['place']);
          else onRecipe(setChannel(recipe, column, header, { probe: value, coldJunction: false }));
        };
        return (
          <li key={column}>
            <div>
              <h4>{titleOf(column)}</h4>
              <p class="small">{sample.join(' · ')}</p>
            </div>
            <ChoiceField
              label={`Probe of ${titleOf(column)}`}
              value={channel?.probe ?? (channel?.coldJunction ? '+cold-junction' : undefined)}
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
            {lacksSensor(channel, probe) && onSensor && probe && (
              <ChoiceField
                label={`Sensor of ${probe.name}`}
                value={undefined}
                none="not said yet"
                hint={
                  channel?.unit.endsWith('ohm') ? 'an NTC is stated on the page of the probes' : undefined
                }
                options={sensorChoices(channel?.unit).map(([id, words]) => [id, words] as const)}
                onValue={(value) => {
                  const sensor = sensorChoices(channel?.unit).find(([id]) => id === value)?.[2];
                  if (sensor) onSensor(probe, sensor);
                }}
              />
            )}
          </li>
        );
      })}
    </ul>
  );
}

/** A raw signal is no temperature until the probe says what it is made of. */
function lacksSensor(channel: Recipe['channels'][number] | undefined, probe: Probe | undefined): boolean {
  return (
    channel !== undefined && isRawUnit(channel.unit) && probe !== undefined && probe.sensor === undefined
  );
}

/** Sensors that need no figures of their own, by the unit of their signal. */
function sensorChoices(unit: ChannelUnit | undefined): readonly (readonly [string, string, SensorFacts])[] {
  if (unit === 'mV' || unit === 'uV')
    return (['K', 'J', 'T', 'N'] as const).map((type) => [
      type,
      `type ${type} thermocouple`,
      { kind: 'thermocouple', type },
    ]);
  return (['Pt100', 'Pt1000'] as const).map((element) => [element, element, { kind: 'platinum', element }]);
}
