/** Changes to the lists of a build: pure, so that an edit can be laid on a document that has changed meanwhile. */
import { type Build, idFrom, type Setup } from '@soakbench/core/records';
import { unplanSetup } from '../compare/change-run-plan.js';
import { layChange, type Rec } from '../parts/record-spec.js';

type ListName = 'zones' | 'setups' | 'limits' | 'probes';

export function addTo<K extends ListName>(
  build: Build,
  list: K,
  record: Readonly<Record<string, unknown>>,
): Build {
  const items = build[list] as readonly { readonly id: string }[];
  const name = String(record['name'] ?? record['where'] ?? list);
  const id = idFrom(
    name,
    items.map((item) => item.id),
  );
  return { ...build, [list]: [...items, { ...record, id }] };
}

/** Lays what changed in a record on the one with its id; a record another edit has removed meanwhile stays removed. */
export function replaceIn<K extends ListName>(
  build: Build,
  list: K,
  before: Rec & { readonly id: string },
  record: Rec,
): Build {
  const items = build[list] as readonly (Rec & { readonly id: string })[];
  const id = before.id;
  return {
    ...build,
    [list]: items.map((item) => (item.id === id ? { ...layChange(before, record, item), id } : item)),
  };
}

export function removeFrom<K extends ListName>(build: Build, list: K, id: string): Build {
  const items = build[list] as readonly { readonly id: string }[];
  return { ...build, [list]: items.filter((item) => item.id !== id) };
}

/** Removes a zone, and what only pointed at it: the probes stay, without a zone; limits of that zone alone go with it. */
export function removeZone(build: Build, id: string): Build {
  const probes = build.probes.map((probe) => {
    if (probe.zone !== id) return probe;
    const { zone: _, ...rest } = probe;
    return rest;
  });
  return removeFrom(
    { ...build, probes, limits: build.limits.filter((limit) => limit.zone !== id) },
    'zones',
    id,
  );
}

/** Removes a set-up; where it was the baseline, the first one is again. */
export function removeSetup(build: Build, id: string): Build {
  const left = removeFrom(unplanSetup(build, id), 'setups', id);
  if (left.baseline !== id) return left;
  const { baseline: _, ...rest } = left;
  return rest;
}

/** States what "no worse" allows, or takes the statement back. */
export function changeNoWorse(build: Build, noWorse_K: number | undefined): Build {
  const { noWorse_K: _, ...rest } = build;
  return noWorse_K === undefined ? rest : { ...rest, noWorse_K };
}

/** Removes a probe and its readings in the checks; a point or a check without any reading left goes too. */
export function removeProbe(build: Build, id: string): Build {
  const probeChecks = build.probeChecks.flatMap((check) => {
    const points = check.points.flatMap((point) => {
      const readings = point.readings.filter((reading) => reading.probe !== id);
      return readings.length > 0 ? [{ ...point, readings }] : [];
    });
    return points.length > 0 ? [{ ...check, points }] : [];
  });
  return removeFrom({ ...build, probeChecks }, 'probes', id);
}

export function changeSetup(build: Build, id: string, change: (setup: Setup) => Setup): Build {
  return { ...build, setups: build.setups.map((setup) => (setup.id === id ? change(setup) : setup)) };
}

/** The list with one item moved; a place outside the list changes nothing. */
export function moveItem<T>(items: readonly T[], from: number, to: number): T[] {
  const moved = [...items];
  if (from < 0 || from >= items.length || to < 0 || to >= items.length) return moved;
  const [item] = moved.splice(from, 1);
  moved.splice(to, 0, item as T);
  return moved;
}
