import { BadInputError, type Fault, formatList } from '@soakbench/core/measure';
import type { Probe, Recipe } from '@soakbench/core/records';

type Channel = Recipe['channels'][number];

/** Behind `=`, in place of a probe: the column holds the temperature of the terminals. */
const coldJunctionWord = 'cold-junction';

/**
 * Gives columns to probes as the person said, over what the headers said.
 *
 * @param maps as typed: `Z1=z1`, `3=c1`, `Spare=` for a column without a probe, `CJ=cold-junction`
 * @returns the recipe, and what is open where no column belongs to a probe of the device
 * @throws BadInputError for a column or probe that is not there, or a column or probe given twice
 */
export function mapColumns(
  recipe: Recipe,
  maps: readonly string[],
  probes: readonly Probe[],
): { recipe: Recipe; open: readonly Fault[] } {
  const faults: Fault[] = [];
  const given = new Map<Channel, string>();
  for (const map of maps) {
    const split = map.lastIndexOf('=');
    const column = map.slice(0, Math.max(0, split)).trim();
    const probe = map.slice(split + 1).trim();
    const where = `--map ${map}`;
    const found = findColumns(recipe, column);
    const [channel] = found;
    if (split < 1) {
      faults.push({
        where,
        what: 'This does not say which column belongs to which probe.',
        remedy: 'Write --map COLUMN=PROBE, as in --map Z1=z1',
      });
    } else if (channel === undefined) {
      faults.push({
        where,
        what: `The log has no column of temperatures "${column}".`,
        remedy: `Use one of: ${listColumns(recipe)}.`,
      });
    } else if (found.length > 1) {
      faults.push({
        where,
        what: `${found.length} columns are headed "${column}".`,
        remedy: `Use the number: ${found.map((each) => each.column + 1).join(' or ')}.`,
      });
    } else if (probe !== '' && probe !== coldJunctionWord && !probes.some(({ id }) => id === probe)) {
      faults.push({
        where,
        what: `There is no probe "${probe}".`,
        remedy:
          probes.length > 0
            ? `Use one of: ${probes.map(({ id }) => id).join(', ')}.`
            : 'Add the probe to build.json first.',
      });
    } else if (given.has(channel) || (probe !== '' && [...given.values()].includes(probe))) {
      faults.push({
        where,
        what: 'Column or probe is given twice.',
        remedy: 'Give each column one probe of its own.',
      });
    } else {
      given.set(channel, probe);
    }
  }
  if (faults.length > 0) throw new BadInputError(faults);

  const taken = new Set(given.values());
  const channels = recipe.channels.map((channel): Channel => {
    const { probe: guessed, coldJunction: guessedCold = false, ...bare } = channel;
    // What a person said goes before what a header said, so a probe given elsewhere is taken from its column.
    const probe = given.get(channel) ?? (guessed !== undefined && taken.has(guessed) ? '' : (guessed ?? ''));
    if (probe === coldJunctionWord) return { ...bare, coldJunction: true };
    const isCold = guessedCold && !given.has(channel) && !taken.has(coldJunctionWord);
    return { ...bare, ...(probe === '' ? {} : { probe }), ...(isCold ? { coldJunction: true } : {}) };
  });
  const mapped = { ...recipe, channels };
  return { recipe: mapped, open: deviceFaults(mapped, probes) };
}

function findColumns({ channels }: Recipe, column: string): Channel[] {
  const headed = channels.filter(({ header }) => header.toLowerCase() === column.toLowerCase());
  return headed.length > 0 ? headed : channels.filter((channel) => String(channel.column + 1) === column);
}

function listColumns({ channels }: Recipe): string {
  return channels
    .map(({ header, column }) => (header === '' ? String(column + 1) : `"${header}" or ${column + 1}`))
    .join(', ');
}

/** A run without a probe on the device says nothing about it. */
function deviceFaults(recipe: Recipe, probes: readonly Probe[]): Fault[] {
  const used = recipe.channels.flatMap(({ probe }) => probes.filter(({ id }) => id === probe));
  if (used.some(({ place }) => place !== 'ambient')) return [];
  const device = probes.filter(({ place }) => place !== 'ambient').map(({ id, name }) => `${id} (${name})`);
  return [
    {
      where: '--map',
      what: 'No column belongs to a probe on the device.',
      remedy:
        device.length === 0
          ? 'Add the probes to build.json first.'
          : `Write --map COLUMN=PROBE. Columns: ${listColumns(recipe)}. Probes: ${formatList(device)}.`,
    },
  ];
}
