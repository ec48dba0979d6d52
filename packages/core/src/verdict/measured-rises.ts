import {
  type Contest,
  calibrationU_K,
  expectReading,
  type Quantity,
  type SetupRise,
} from '../compare/index.js';
import { dofRecord, type Estimate, effectiveDof, formatList } from '../measure/index.js';
import type { Correction } from '../probes/index.js';
import type { Build } from '../records/index.js';

export type Use = Pick<Quantity, 'phase' | 'charging'>;

/** Where a forecast of life has its rises from. */
export interface CellRises {
  /** One rise for each cell in series, or one for all of them; null where nothing is known of this use. */
  of(setup: string, use: Use): readonly Estimate[] | null;
  /** What was taken for granted about the cells, in words. */
  tellCells(): readonly string[];
}

/**
 * Rises of the cells above the room, as a forecast of life takes them: each with the doubt of one further mounting and of the probes,
 * because the pack that stays in was mounted once.
 */
export class MeasuredRises implements CellRises {
  private readonly build: Pick<Build, 'probes'>;
  private readonly contests: readonly Contest[];
  private readonly corrections: readonly Correction[];
  private readonly cells: number;

  /** @param cells in series; where they are counted one by one, the probes must say on which cell they sit */
  constructor(
    build: Pick<Build, 'probes'>,
    contests: readonly Contest[],
    corrections: readonly Correction[],
    cells: number,
  ) {
    this.build = build;
    this.contests = contests;
    this.corrections = corrections;
    this.cells = cells;
  }

  /** One rise for each cell in series, or one for all of them; null where no cell probe settled in this use. */
  of(setup: string, use: Use): readonly Estimate[] | null {
    const found = this.read(setup, use);
    if (found === null) return null;
    const { perCell, warmest } = found;
    // One cell's probe alone says nothing of how far the others are from it.
    return perCell.some((rise) => rise !== null) && this.cells > 1
      ? perCell.map((rise) => rise ?? warmest)
      : [warmest];
  }

  /** What the probes say of each cell in series, null where none sits on it, and the warmest of all; null where none settled. */
  read(setup: string, use: Use): CellReadings | null {
    const found = this.contestsOf(use).flatMap((contest) => {
      const rise = contest.setups.find((each) => each.setup === setup);
      return rise ? [{ cell: this.cellOf(contest), rise_K: this.expect(contest, rise) }] : [];
    });
    return sortByCell(found, this.cells);
  }

  tellCells(): readonly string[] {
    const probed = new Set(
      this.build.probes.flatMap(({ place, cell }) => (place === 'cell' && cell ? [cell] : [])),
    );
    const unprobed = Array.from({ length: this.cells }, (_, index) => index + 1).filter(
      (cell) => probed.size > 0 && !probed.has(cell),
    );
    return unprobed.length > 0
      ? [
          `No probe sits on cell ${formatList(unprobed.map(String))}: counted as the warmest cell that was measured.`,
        ]
      : [];
  }

  /** Part of the doubt that all set-ups share because it is the probes' own, at the cell's load. */
  get shared_u_K(): number {
    return Math.max(
      0,
      ...this.contestsOf({ phase: 'load', charging: false }).map((contest) =>
        this.calibration_u_K(contest, contest.setups[0]?.rise_K.value ?? 0),
      ),
    );
  }

  private contestsOf({ phase, charging }: Use): readonly Contest[] {
    return this.contests.filter(
      ({ quantity }) =>
        quantity.phase === phase &&
        quantity.charging === charging &&
        this.build.probes.find(({ id }) => id === quantity.probe)?.place === 'cell',
    );
  }

  private cellOf({ quantity }: Contest): number | null {
    return this.build.probes.find(({ id }) => id === quantity.probe)?.cell ?? null;
  }

  private expect(contest: Contest, rise: SetupRise): Estimate {
    const { u, dof } = expectReading(this.build, this.contests, this.corrections, contest, rise, usualRoom_C);
    return { value: rise.rise_K.value, u, dof };
  }

  private calibration_u_K({ quantity }: Contest, rise_K: number): number {
    return calibrationU_K(this.build, this.corrections, quantity.probe, usualRoom_C + rise_K, usualRoom_C);
  }
}

/** Where the probes' doubt is taken at. @assumed an ordinary room; a probe's doubt changes little within ten kelvins of it */
const usualRoom_C = 25;

export interface CellReadings {
  readonly perCell: readonly (Estimate | null)[];
  readonly warmest: Estimate;
}

/** Readings by the cell they were taken on, the warmest of each; null where there are none. */
export function sortByCell(
  found: readonly { readonly cell: number | null; readonly rise_K: Estimate }[],
  cells: number,
): CellReadings | null {
  const warmest = warmestOf(found.map(({ rise_K }) => rise_K));
  if (warmest === null) return null;
  return {
    warmest,
    perCell: Array.from({ length: cells }, (_, index) =>
      warmestOf(found.filter(({ cell }) => cell === index + 1).map(({ rise_K }) => rise_K)),
    ),
  };
}

function warmestOf(rises: readonly Estimate[]): Estimate | null {
  return rises.reduce<Estimate | null>(
    (most, rise) => (most !== null && most.value >= rise.value ? most : rise),
    null,
  );
}

/**
 * What a charge adds to a cell, from a set-up in which both were measured. A shield moves the board's heat about; that of the pack itself
 * arises inside it, so it is lent to the set-ups that were not charged in.
 */
export function lendCharge(
  without: readonly Estimate[],
  lender: { readonly with: readonly Estimate[]; readonly without: readonly Estimate[] },
): readonly Estimate[] {
  return without.map((own, cell) => {
    const charged = lender.with[cell] ?? lender.with[0] ?? own;
    const idle = lender.without[cell] ?? lender.without[0] ?? own;
    return addUp([own, charged, idle], own.value + charged.value - idle.value);
  });
}

/**
 * The rise at another power than was measured, in proportion. A film carries heat better when it is warmer, and a device spreads its heat
 * differently when it does something else.
 */
export function scaleRise(rise: Estimate, ratio: number): Estimate {
  const value = rise.value * ratio;
  const off = scaling_u * Math.abs(value - rise.value);
  return { value, u: Math.hypot(rise.u * ratio, off), dof: rise.dof };
}

/** Of a rise's change when it is taken in proportion to power. @assumed natural convection makes it some 10 to 25 % off the straight line */
export const scaling_u = 0.2;

function addUp(parts: readonly Estimate[], value: number): Estimate {
  return {
    value,
    u: Math.hypot(...parts.map(({ u }) => u)),
    dof: dofRecord(effectiveDof(parts)),
  };
}
