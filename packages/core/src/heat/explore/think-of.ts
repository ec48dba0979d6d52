import type { Build, Layer, Outline } from '../../records/index.js';
import { type Candidate, insetOf, layerOf, makeCandidate, packOutline } from './candidate.js';
import { roleOf, type StockRole } from './stock.js';
import { checkWish, type ExploreWish, type Family, type Room } from './wish.js';

/** What a sweep will compute, and what it left out before computing anything. */
export interface ExplorePlan {
  readonly wish: ExploreWish;
  readonly room: Room;
  /** In the order of computing: neighbours differ little. */
  readonly candidates: readonly Candidate[];
  readonly leftOut: {
    readonly tooThick: number;
    readonly tooHeavy: number;
    readonly tooDear: number;
    /** Fit, and are too many: the rest is spread evenly over them. */
    readonly sampledOut: number;
  };
  readonly notes: readonly string[];
}

/**
 * Every set-up that can be made of the stock within the limits, or an even choice of them where there are too many.
 *
 * No chance takes part: the same wish gives the same set-ups in the same order.
 *
 * @throws BadInputError naming every part of the wish that cannot be
 */
export function planExploration(build: Build, wish: ExploreWish): ExplorePlan {
  const room = checkWish(build, wish);
  const outline = packOutline(build);
  const leftOut = { tooThick: 0, tooHeavy: 0, tooDear: 0, sampledOut: 0 };
  const byFamily: Candidate[][] = [];
  const seen = new Set<string>();
  let unpriced = false;
  for (const family of wish.families) {
    const fitting: Candidate[] = [];
    for (const layers of layersOf(family, wish, room, outline)) {
      const candidate = makeCandidate(family, layers, outline, wish.stock);
      if (seen.has(candidate.setup.id)) continue;
      seen.add(candidate.setup.id);
      if (candidate.thickness_mm > room.budget_mm + 1e-9) leftOut.tooThick++;
      else if (wish.mostMass_g !== null && candidate.mass_g > wish.mostMass_g) leftOut.tooHeavy++;
      else if (wish.mostPrice !== null && candidate.price !== null && candidate.price > wish.mostPrice)
        leftOut.tooDear++;
      else {
        if (candidate.price === null) unpriced = true;
        fitting.push(candidate);
      }
    }
    byFamily.push(fitting);
  }
  const quotas = shareOut(
    byFamily.map(({ length }) => length),
    wish.most,
  );
  const bare = (candidate: Candidate) => nameLayers(candidate, ({ strips }) => strips === undefined);
  const striped = new Set(
    byFamily.flatMap((fitting, at) =>
      wish.families[at] === 'strips' ? chooseEvenly(fitting, quotas[at] as number).map(bare) : [],
    ),
  );
  const candidates = byFamily.flatMap((fitting, at) => {
    const quota = quotas[at] as number;
    if (wish.families[at] !== 'plate') return chooseEvenly(fitting, quota);
    // Half of the plates are those that also lie on strips here, so that what strips do can be told.
    const [twins, others] = [true, false].map((isTwin) =>
      fitting.filter((each) => striped.has(nameLayers(each)) === isTwin),
    ) as [Candidate[], Candidate[]];
    const paired = chooseEvenly(twins, Math.max(Math.ceil(quota / 2), quota - others.length));
    return [...paired, ...chooseEvenly(others, quota - paired.length)];
  });
  leftOut.sampledOut = byFamily.reduce((sum, { length }) => sum + length, 0) - candidates.length;
  const notes = [
    ...(wish.mostPrice !== null && unpriced
      ? ['Set-ups with a layer of unknown price are kept: what is not known is no reason to leave them out.']
      : []),
    'A sheet that conducts electricity lies on film in every set-up thought of here.',
  ];
  return { wish, room, candidates: sortForSolving(candidates), leftOut, notes };
}

function nameLayers({ setup }: Candidate, counts: (layer: Layer) => boolean = () => true): string {
  return JSON.stringify(setup.layers.filter(counts));
}

/** Stacks of one family, from the zones towards the pack, every choice with every other. */
function* layersOf(family: Family, wish: ExploreWish, room: Room, outline: Outline): Generator<Layer[]> {
  const sheets = (role: StockRole) =>
    wish.stock
      .filter(({ material }) => roleOf(material) === role)
      .flatMap(({ material, thicknesses_mm }) =>
        thicknesses_mm.map((thickness_mm) => ({ material, thickness_mm })),
      );
  const make = ({ material, thickness_mm }: { material: string; thickness_mm: number }, more = {}) =>
    layerOf(material, thickness_mm, more);
  const whole = { outline };
  if (family === 'bare') yield [];
  if (family === 'film') for (const film of sheets('film')) yield [make(film, whole)];
  if (family === 'foam')
    for (const pad of sheets('pad')) {
      yield [make(pad, whole)];
    }
  const conductors =
    family === 'graphite'
      ? sheets('spreader').map((each) => [each])
      : family === 'plate' || family === 'strips'
        ? sheets('plate').map((each) => [each])
        : family === 'plate-graphite'
          ? sheets('plate').flatMap((plate) => sheets('spreader').map((spreader) => [plate, spreader]))
          : [];
  for (const conductor of conductors) {
    for (const film of sheets('film')) {
      for (const inset_mm of room.insets_mm) {
        const inner = { outline: insetOf(outline, inset_mm) };
        for (const tape of sheets('tape')) {
          const base = [make(film, whole), ...conductor.map((each) => make(each, inner))];
          if (family !== 'strips') yield [...base, make(tape, inner)];
          else
            for (const strip of sheets('strip'))
              for (const strips of room.strips) {
                // What overlaps on a sheet farther in is none there.
                if (strips.count * strips.width_mm > inner.outline.length_mm) continue;
                yield [...base, make(strip, { ...inner, strips }), make(tape, inner)];
              }
        }
      }
    }
  }
}

/** How many each may have: as many as it needs, or an even share of what the small ones leave. */
function shareOut(sizes: readonly number[], most: number): number[] {
  const quotas = sizes.map(() => 0);
  let left = most;
  let open = sizes.flatMap((size, at) => (size > 0 ? [at] : []));
  while (open.length > 0 && left > 0) {
    const share = Math.floor(left / open.length);
    if (share === 0) {
      for (const at of open.slice(0, left)) quotas[at] = (quotas[at] as number) + 1;
      break;
    }
    for (const at of open) {
      const more = Math.min(share, (sizes[at] as number) - (quotas[at] as number));
      quotas[at] = (quotas[at] as number) + more;
      left -= more;
    }
    open = open.filter((at) => (quotas[at] as number) < (sizes[at] as number));
  }
  return quotas;
}

/** The golden ratio's fraction: its multiples fill the unit interval as evenly as any number's can. */
const golden = (Math.sqrt(5) - 1) / 2;

/** So many of a list, spread over all of it without a beat against its order. @source [NIEDERREITER-92] section 3.1: multiples of an irrational number */
function chooseEvenly<T>(all: readonly T[], count: number): T[] {
  if (count >= all.length) return [...all];
  const chosen = new Set<number>();
  for (let turn = 1; chosen.size < count; turn++) chosen.add(Math.floor(all.length * ((turn * golden) % 1)));
  return [...chosen].sort((one, other) => one - other).map((at) => all[at] as T);
}

/** Those with the same outlines together, thinner layers first: a solve starts from its neighbour's field. */
function sortForSolving(candidates: readonly Candidate[]): Candidate[] {
  const key = ({ family, setup }: Candidate) =>
    JSON.stringify([family, setup.layers.map(({ outline, strips }) => [outline ?? null, strips ?? null])]);
  const keys = new Map(candidates.map((candidate) => [candidate, key(candidate)]));
  return [...candidates].sort((one, other) => {
    const [a, b] = [keys.get(one) as string, keys.get(other) as string];
    if (a !== b) return a < b ? -1 : 1;
    return one.thickness_mm - other.thickness_mm || (one.setup.id < other.setup.id ? -1 : 1);
  });
}
