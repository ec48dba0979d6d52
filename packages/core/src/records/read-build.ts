import type * as z from 'zod';
import { BadInputError, type Fault } from '../measure/index.js';
import { type Build, buildFormat, buildSchema, buildVersion, checkReadingFields } from './build-record.js';
import { dutyFaults } from './duty-year.js';
import { issueWords } from './issue-words.js';

/**
 * Reads the text of a `build.json`: checks the form, the version and every reference between records.
 *
 * Unknown fields are kept, so that a file written by hand or by a later minor version survives a round trip.
 *
 * @param text the file's text
 * @param where what the faults call the file
 * @throws BadInputError naming every field that is wrong, and what to do about it
 */
export function readBuild(text: string, where = 'build.json'): Build {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    throw new BadInputError([
      {
        where,
        what: `This is not JSON: ${(error as Error).message}.`,
        remedy: 'Mend the text at that place.',
      },
    ]);
  }
  return checkBuild(data, where);
}

/** As `readBuild`, for data that is already parsed. @throws BadInputError */
export function checkBuild(data: unknown, where = 'build.json'): Build {
  refuseForeign(data, where);
  // The code that the library would first write for itself costs more than it saves in tens of readings.
  const parsed = buildSchema.safeParse(data, { jitless: true });
  if (!parsed.success)
    throw new BadInputError(parsed.error.issues.map((issue) => faultOf(issue, data, where)));
  const faults = referenceFaults(parsed.data, where);
  if (faults.length > 0) throw new BadInputError(faults);
  return parsed.data;
}

function refuseForeign(data: unknown, where: string): void {
  const { format, version } = (typeof data === 'object' && data !== null ? data : {}) as Record<
    string,
    unknown
  >;
  if (format !== buildFormat) {
    throw new BadInputError([
      {
        where: `${where}: format`,
        what: `Expected "${buildFormat}", received ${JSON.stringify(format) ?? 'nothing'}.`,
        remedy: 'Point to the build.json of a Soakbench build folder.',
      },
    ]);
  }
  if (typeof version === 'number' && version > buildVersion) {
    throw new BadInputError([
      {
        where: `${where}: version`,
        what: `The file has version ${version}; this Soakbench reads up to version ${buildVersion}.`,
        remedy: 'Install a newer Soakbench. Nothing was changed.',
      },
    ]);
  }
}

/** "runs[2].log.file" from a path of keys. */
function pathText(path: readonly PropertyKey[]): string {
  return path
    .map((key, index) =>
      typeof key === 'number' ? `[${key}]` : index === 0 ? String(key) : `.${String(key)}`,
    )
    .join('');
}

function faultOf(issue: z.core.$ZodIssue, data: unknown, where: string): Fault {
  const field = pathText(issue.path);
  const misnamed = nearMiss(issue, data);
  if (misnamed)
    return {
      where: `${where}: ${field}`,
      what: `The field is missing; "${misnamed}" stands there instead.`,
      remedy: `Give the value in the unit the name "${String(issue.path.at(-1))}" asks for, under that name.`,
    };
  return { where: `${where}: ${field}`, ...issueWords(issue, valueAt(data, issue.path)) };
}

function valueAt(data: unknown, path: readonly PropertyKey[]): unknown {
  let value = data;
  for (const step of path) value = (value as Record<PropertyKey, unknown> | undefined | null)?.[step];
  return value;
}

/** A sibling with the same quantity and another unit, such as `thickness_in` for `thickness_mm`. */
function nearMiss(issue: z.core.$ZodIssue, data: unknown): string | undefined {
  const key = issue.path.at(-1);
  if (typeof key !== 'string' || !key.includes('_')) return undefined;
  const parent = valueAt(data, issue.path.slice(0, -1));
  if (typeof parent !== 'object' || parent === null || key in parent) return undefined;
  const quantity = key.slice(0, key.lastIndexOf('_') + 1);
  return Object.keys(parent).find((other) => other.startsWith(quantity));
}

/** Every id that points nowhere, every id used twice, every limit or phase that contradicts itself. */
function referenceFaults(build: Build, where: string): Fault[] {
  const faults: Fault[] = [];
  const known = (kind: string, items: readonly { id: string }[]) => {
    const ids = new Set<string>();
    for (const [index, item] of items.entries()) {
      if (ids.has(item.id)) {
        faults.push({
          where: `${where}: ${kind}[${index}].id`,
          what: `"${item.id}" is used twice.`,
          remedy: 'Give each its own id.',
        });
      }
      ids.add(item.id);
    }
    return ids;
  };
  const zones = known('zones', build.zones);
  const probes = known('probes', build.probes);
  const setups = known('setups', build.setups);
  known('probeChecks', build.probeChecks);
  known('runs', build.runs);
  known('limits', build.limits);

  const need = (ids: ReadonlySet<string>, value: string | undefined, field: string, noun: string) => {
    if (value === undefined || ids.has(value)) return;
    const names = [...ids];
    faults.push({
      where: `${where}: ${field}`,
      what: `There is no ${noun} "${value}".`,
      remedy: names.length > 0 ? `Use one of: ${names.join(', ')}.` : `Add the ${noun} first.`,
    });
  };
  need(setups, build.baseline, 'baseline', 'set-up');
  for (const [i, probe] of build.probes.entries()) need(zones, probe.zone, `probes[${i}].zone`, 'zone');
  for (const [i, limit] of build.limits.entries()) need(zones, limit.zone, `limits[${i}].zone`, 'zone');
  for (const [i, check] of build.probeChecks.entries()) {
    for (const [j, point] of check.points.entries()) {
      for (const [k, reading] of point.readings.entries()) {
        const place = `probeChecks[${i}].points[${j}].readings[${k}]`;
        need(probes, reading.probe, `${place}.probe`, 'probe');
        faults.push(...readingFaults(reading, `${where}: ${place}`));
      }
    }
  }
  const { load_h_per_day = 0, idle_h_per_day = 0 } = build.duty ?? {};
  if (load_h_per_day + idle_h_per_day > 24) {
    faults.push({
      where: `${where}: duty`,
      what: `Load and idle add up to ${load_h_per_day + idle_h_per_day} hours a day.`,
      remedy: 'A day has 24 hours; the rest of it the device lies switched off.',
    });
  }
  if (build.dutyYear) faults.push(...dutyFaults(build.dutyYear, `${where}: dutyYear`));
  for (const [i, run] of build.runs.entries()) {
    need(setups, run.setup, `runs[${i}].setup`, 'set-up');
    for (const [j, channel] of run.recipe.channels.entries()) {
      need(probes, channel.probe, `runs[${i}].recipe.channels[${j}].probe`, 'probe');
    }
    for (const [j, phase] of (run.phases ?? []).entries()) {
      if (phase.to_s > phase.from_s) continue;
      faults.push({
        where: `${where}: runs[${i}].phases[${j}]`,
        what: `The phase ends (${phase.to_s} s) before it begins (${phase.from_s} s).`,
        remedy: 'Set to_s later than from_s.',
      });
    }
  }
  for (const [i, planned] of (build.runPlan?.runs ?? []).entries()) {
    need(setups, planned.setup, `runPlan.runs[${i}].setup`, 'set-up');
  }
  return faults;
}

/** A reading is noted in one way: as a temperature, or in the signal of its sensor. */
function readingFaults(
  reading: Build['probeChecks'][number]['points'][number]['readings'][number],
  where: string,
): Fault[] {
  const noted = checkReadingFields.filter((field) => reading[field] !== undefined);
  if (noted.length === 1) return [];
  const odd = Object.keys(reading).find((key) => key.startsWith('reading_') && reading[key] !== undefined);
  return [
    {
      where,
      what:
        noted.length > 1
          ? `The reading is noted as ${noted.join(' and as ')}.`
          : odd === undefined
            ? 'The reading is missing.'
            : `The reading is missing; "${odd}" stands there instead.`,
      remedy: `Give one of ${checkReadingFields.join(', ')}, in the unit its name says.`,
    },
  ];
}

/** The text of a `build.json`: stable order, two spaces, a final newline, so that it diffs well. */
export function writeBuild(build: Build): string {
  return `${JSON.stringify(build, null, 2)}\n`;
}
