import { BadInputError, type Fault } from '../measure/index.js';
import { makeSensor, type Sensor } from '../probes/index.js';
import type { Probe, Recipe } from '../records/index.js';
import { isRawUnit, type RawUnit, rawUnits, unitNames } from './channel-unit.js';
import type { LogChannel, LogReading } from './log-reading.js';
import { readable_C } from './read-cell.js';
import type { RowLines } from './row-lines.js';
import { UnreadTally } from './unread-tally.js';

type Channel = Recipe['channels'][number];

/** A column of raw signals with the sensor that explains them. */
interface SignalColumn {
  readonly channel: Channel;
  readonly unit: RawUnit;
  readonly index: number;
  readonly probe: Probe;
  readonly sensor: Sensor;
}

/**
 * Turns raw signals into temperatures, each by the sensor of its probe: the step between reading a log and correcting it.
 *
 * A log of temperatures comes back as it is. A signal that is no temperature of its sensor is no reading: NaN, counted and
 * listed in the report. A thermocouple takes its cold junction from the column the recipe marks, else from its probe's record.
 *
 * @param reading as `readLog` read it
 * @param file what the faults call the file
 * @throws BadInputError where a probe states no sensor, one of another signal, or none there can be; where a cold junction is
 *   not known; and where not one signal of the log is a temperature
 */
export function convertSignals(reading: LogReading, probes: readonly Probe[], file: string): LogReading {
  const { recipe } = reading.report;
  const faults: Fault[] = [];
  const columns = recipe.channels.flatMap((channel, index) =>
    findSignal(channel, index, probes, file, faults),
  );
  const cold = findColdJunction(recipe, columns, file, faults);
  for (const column of columns) refuseWithoutColdJunction(column, cold, file, faults);
  if (faults.length > 0) throw new BadInputError(faults);
  if (columns.length === 0) return reading;

  const tally = new UnreadTally();
  const channels: LogChannel[] = [...reading.channels];
  // What the cold junction is read by comes first, since thermocouples need its temperature.
  for (const column of columns.toSorted(
    (one, other) => Number(other.index === cold) - Number(one.index === cold),
  )) {
    const channel = channels[column.index] as LogChannel;
    const cold_C = column.sensor.coldJunction === null ? null : (channels[cold ?? -1]?.reading_C ?? null);
    channels[column.index] = {
      ...channel,
      reading_C: convertColumn(column, channel, cold_C, reading.lines, tally),
    };
  }
  const unread = [...reading.report.unread, ...tally.list()];
  refuseSilent(channels, columns, unread, file);
  return {
    ...reading,
    channels,
    report: {
      ...reading.report,
      unread,
      conclusions: [
        ...reading.report.conclusions,
        ...columns.map((column) => describeColumn(column, recipe.channels[cold ?? -1])),
      ],
    },
  };
}

function findSignal(
  channel: Channel,
  index: number,
  probes: readonly Probe[],
  file: string,
  faults: Fault[],
): SignalColumn[] {
  const { unit } = channel;
  if (!isRawUnit(unit)) return [];
  const probe = probes.find(({ id }) => id === channel.probe);
  const fault = (what: string, remedy: string) => {
    faults.push({ where: file, what, remedy });
    return [];
  };
  if (probe === undefined) {
    // A raw column that nobody uses is kept as it stands.
    if (!channel.coldJunction) return [];
    return fault(
      `${capital(placeOf(channel))} is the cold junction and is in ${unitNames[unit]}, but belongs to no probe whose sensor would make a temperature of it.`,
      'Give the column to a probe that states its sensor, or log the cold junction as a temperature.',
    );
  }
  const { signal } = rawUnits[unit];
  const fits = signal === 'mV' ? 'a thermocouple' : 'a platinum resistor or an NTC';
  if (probe.sensor === undefined) {
    return fault(
      `${capital(placeOf(channel))} is in ${unitNames[unit]}, and probe "${probe.id}" does not state what sensor makes a temperature of it.`,
      `State the sensor of the probe, ${fits}, among the probes; or set the unit of the column right if the logger wrote temperatures.`,
    );
  }
  const made = makeSensor(probe.sensor);
  if (!made.ok) return fault(`Probe "${probe.id}": ${made.reason.what}`, made.reason.remedy);
  if (made.value.unit !== signal) {
    return fault(
      `${capital(placeOf(channel))} is in ${unitNames[unit]}, and probe "${probe.id}" is a ${made.value.title}, whose signal is in ${unitNames[made.value.unit]}.`,
      `Set the unit of the column right, or state ${fits} as the sensor of the probe.`,
    );
  }
  return [{ channel, unit, index, probe, sensor: made.value }];
}

/** The one column with the temperature of the terminals, counted among the channels; null where the log has none. */
function findColdJunction(
  recipe: Recipe,
  columns: readonly SignalColumn[],
  file: string,
  faults: Fault[],
): number | null {
  const marked = recipe.channels.flatMap((channel, index) => (channel.coldJunction ? [index] : []));
  if (marked.length > 1) {
    faults.push({
      where: file,
      what: `The recipe marks ${marked.length} columns as the cold junction.`,
      remedy: 'Mark the one at the terminals of the thermocouples.',
    });
  }
  const [cold = null] = marked;
  const own = columns.find(({ index }) => index === cold);
  if (own?.sensor.coldJunction) {
    faults.push({
      where: file,
      what: `${capital(placeOf(own.channel))} is the cold junction and is itself a ${own.sensor.title}, which needs one.`,
      remedy: 'Mark the column with the temperature of the terminals.',
    });
  }
  return cold;
}

function fixedOf({ sensor }: Probe): number | null {
  if (sensor?.kind !== 'thermocouple' || sensor.coldJunction?.kind !== 'fixed') return null;
  return sensor.coldJunction.fixed_C;
}

function refuseWithoutColdJunction(
  { channel, probe, sensor }: SignalColumn,
  cold: number | null,
  file: string,
  faults: Fault[],
): void {
  if (sensor.coldJunction === null || cold !== null || fixedOf(probe) !== null) return;
  faults.push({
    where: file,
    what: `${capital(placeOf(channel))} holds the signal of a thermocouple, which tells how much warmer its tip is than the logger’s terminals; how warm those were is not known.`,
    remedy: `Mark the column with the temperature of the terminals as the cold junction, or state a fixed one for probe "${probe.id}".`,
  });
}

function convertColumn(
  { channel, unit, probe, sensor }: SignalColumn,
  { signal = new Float64Array() }: LogChannel,
  cold_C: Float64Array | null,
  lines: RowLines,
  tally: UnreadTally,
): Float64Array {
  const { convert } = rawUnits[unit];
  const fixed_C = fixedOf(probe) ?? undefined;
  return signal.map((value, row) => {
    if (Number.isNaN(value)) return value;
    const answer = sensor.temperature_C(convert(value), cold_C?.[row] ?? fixed_C);
    if (answer.ok && answer.value >= readable_C[0] && answer.value <= readable_C[1]) return answer.value;
    if (!answer.ok && answer.reason.kind === 'no-cold-junction') {
      tally.count('no reading of the cold junction', lines.at(row));
    } else {
      tally.count(
        `no temperature of ${probe.id}`,
        lines.at(row),
        () =>
          `no temperature from ${readable_C[0]} to ${readable_C[1]} °C of a ${sensor.title} in ${placeOf(channel)}, such as ${value} ${unitNames[unit]}`,
      );
    }
    return Number.NaN;
  });
}

/** A log of which not one signal is a temperature has the wrong unit or the wrong sensor. */
function refuseSilent(
  channels: readonly LogChannel[],
  columns: readonly SignalColumn[],
  unread: LogReading['report']['unread'],
  file: string,
): void {
  if (channels.some(({ reading_C }) => reading_C.some((value) => !Number.isNaN(value)))) return;
  throw new BadInputError([
    {
      where: file,
      what: `No signal of this log is a temperature. Found: ${unread
        .slice(0, 4)
        .map(({ reason }) => reason)
        .join('; ')}.`,
      remedy: `Check the unit of ${columns.map(({ channel }) => placeOf(channel)).join(', ')} and the sensors of the probes.`,
    },
  ]);
}

function describeColumn({ channel, probe, sensor }: SignalColumn, cold: Channel | undefined): string {
  const fixed_C = fixedOf(probe);
  const junction =
    sensor.coldJunction === null
      ? ''
      : cold === undefined
        ? `, its cold junction taken to be at ${fixed_C} °C`
        : `, its cold junction read from ${placeOf(cold)}`;
  return `${capital(placeOf(channel))} is turned into °C as the signal of a ${sensor.title}${junction}.`;
}

function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

function placeOf({ column, header }: Channel): string {
  return header === '' ? `column ${column + 1}` : `column ${column + 1} ("${header}")`;
}
