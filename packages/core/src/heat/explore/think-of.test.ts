import { describe, expect, test } from 'vitest';
import { smallDevice } from '../../../test/heat/small-device.js';
import { BadInputError } from '../../measure/index.js';
import { checkBuild } from '../../records/index.js';
import { layerOf, measureLayers } from './candidate.js';
import { planExploration } from './think-of.js';
import { checkWish, type ExploreWish, families, usualWish } from './wish.js';

const build = smallDevice();

describe('a wish that cannot be is refused before anything is computed', () => {
  const faultOf = (more: Partial<ExploreWish>) => {
    try {
      planExploration(build, { ...usualWish, ...more });
    } catch (error) {
      if (error instanceof BadInputError) return error.faults.map(({ where }) => where);
      throw error;
    }
    return [];
  };
  test.each<{ what: string; wish: Partial<ExploreWish>; where: string }>([
    { what: 'a negative budget', wish: { budget_mm: -1 }, where: 'budget_mm' },
    { what: 'a budget of nothing', wish: { budget_mm: 0 }, where: 'budget_mm' },
    { what: 'more than the bay has', wish: { budget_mm: 1.6 }, where: 'budget_mm' },
    { what: 'a budget that is no number', wish: { budget_mm: Number.NaN }, where: 'budget_mm' },
    { what: 'a reserve that fills the bay', wish: { reserve_mm: 1.5 }, where: 'reserve_mm' },
    {
      what: 'an unknown material',
      wish: { stock: [{ material: 'unobtainium', thicknesses_mm: [1] }] },
      where: 'stock[0] unobtainium',
    },
    {
      what: 'a sheet without thickness',
      wish: { stock: [{ material: 'aluminium', thicknesses_mm: [0] }] },
      where: 'stock[0] aluminium',
    },
    {
      what: 'a negative price',
      wish: { stock: [{ material: 'aluminium', thicknesses_mm: [0.5], price_per_m2: -1 }] },
      where: 'stock[0] aluminium',
    },
    { what: 'strips that overlap', wish: { strips: { counts: [8], widths_mm: [7.1] } }, where: 'strips' },
    { what: 'half a strip', wish: { strips: { counts: [0.5], widths_mm: [3] } }, where: 'strips' },
    { what: 'an inset beyond the middle', wish: { insets_mm: [20] }, where: 'insets_mm' },
    { what: 'a negative mass', wish: { mostMass_g: -1 }, where: 'mostMass_g' },
    { what: 'a thousand million set-ups', wish: { most: 1e9 }, where: 'most' },
    { what: 'a negative load', wish: { use: { charging: false, load_W: -2 } }, where: 'use.load_W' },
  ])('$what', ({ wish, where }) => {
    expect(faultOf(wish)).toContain(where);
  });

  test('every fault is told at once', () => {
    expect(faultOf({ budget_mm: -1, mostMass_g: -1 })).toEqual(['budget_mm', 'mostMass_g']);
  });
});

describe('what is thought of', () => {
  const plan = planExploration(build, { ...usualWish, most: 120 });

  test('fits the bay with the reserve kept free', () => {
    // By hand: bay 8, highest zone 1.5, pack 5, leaves 1.5; a twentieth of the pack is 0.25.
    expect(plan.room.free_mm).toBeCloseTo(1.5, 12);
    expect(plan.room.reserve_mm).toBeCloseTo(0.25, 12);
    expect(plan.room.budget_mm).toBeCloseTo(1.25, 12);
    for (const { thickness_mm } of plan.candidates) expect(thickness_mm).toBeLessThanOrEqual(1.25 + 1e-9);
  });

  test('is as many as asked for, each once, of every kind, and each a set-up a build can hold', () => {
    expect(plan.candidates).toHaveLength(120);
    expect(new Set(plan.candidates.map(({ setup }) => setup.id)).size).toBe(120);
    expect(new Set(plan.candidates.map(({ family }) => family))).toEqual(new Set(families));
    expect(() =>
      checkBuild({
        ...build,
        setups: plan.candidates.slice(0, 50).map(({ setup }) => setup),
        baseline: undefined,
      }),
    ).not.toThrow();
  });

  test('is the same each time, and a larger sweep of everything holds the smaller', () => {
    expect(planExploration(build, { ...usualWish, most: 120 })).toEqual(plan);
    const all = planExploration(build, { ...usualWish, most: 20_000 });
    expect(all.leftOut.sampledOut).toBe(0);
    const ids = new Set(all.candidates.map(({ setup }) => setup.id));
    for (const { setup } of plan.candidates) expect(ids.has(setup.id)).toBe(true);
    expect(plan.leftOut.sampledOut).toBe(all.candidates.length - 120);
  });

  test('has plates with and without the same strips', () => {
    const layers = new Set(plan.candidates.map(({ setup }) => JSON.stringify(setup.layers)));
    const pairs = plan.candidates.filter(
      ({ family, setup }) =>
        family === 'strips' &&
        layers.has(JSON.stringify(setup.layers.filter(({ strips }) => strips === undefined))),
    );
    expect(pairs.length).toBeGreaterThan(3);
  });

  test('never lays bare metal or graphite on the board', () => {
    const conducts = new Set(['aluminium', 'copper', 'graphite']);
    for (const { setup } of plan.candidates) {
      const [first, second] = setup.layers;
      expect(conducts.has(first?.material ?? '')).toBe(false);
      if (conducts.has(second?.material ?? '')) expect(first?.outline).toEqual(build.newPack?.outline);
    }
  });

  test('keeps to limits of mass and price, and an unknown price is no reason to leave anything out', () => {
    const stock = usualWish.stock.map((each) =>
      each.material === 'copper' || each.material === 'polyimide' ? each : { ...each, price_per_m2: 50 },
    );
    const limited = planExploration(build, {
      ...usualWish,
      stock,
      mostMass_g: 3,
      mostPrice: 0.1,
      most: 20_000,
    });
    expect(limited.leftOut.tooHeavy).toBeGreaterThan(0);
    expect(limited.leftOut.tooDear).toBeGreaterThan(0);
    for (const { mass_g, price } of limited.candidates) {
      expect(mass_g).toBeLessThanOrEqual(3);
      if (price !== null) expect(price).toBeLessThanOrEqual(0.1);
    }
    expect(limited.candidates.some(({ price }) => price === null)).toBe(true);
  });
});

describe('mass and price of layers', () => {
  const outline = { x_mm: 0, y_mm: 0, length_mm: 110, width_mm: 42 };
  // By hand: 110 x 42 mm of 0.5 mm is 2.31 cm3; aluminium has 2.7 g/cm3. A square metre at 40 makes 4620 mm2 cost 0.1848.
  test('of a plate', () => {
    const plate = layerOf('aluminium', 0.5, { outline });
    const stock = [{ material: 'aluminium', thicknesses_mm: [0.5], price_per_m2: 40 }];
    const { mass_g, price, thickness_mm } = measureLayers([plate], outline, stock);
    expect(mass_g).toBeCloseTo(2.31 * 2.7, 9);
    expect(price).toBeCloseTo(0.1848, 9);
    expect(thickness_mm).toBe(0.5);
  });
  test('of strips: as long as they are wide together', () => {
    const strips = layerOf('aluminium', 0.5, { outline, strips: { count: 5, width_mm: 4 } });
    expect(measureLayers([strips], outline, []).mass_g).toBeCloseTo(20 * 42 * 0.5 * 2.7e-3, 9);
  });
  test('of a layer without a price: none', () => {
    expect(measureLayers([layerOf('copper', 0.2, { outline })], outline, []).price).toBeNull();
  });
});

test('the usual wish holds for a device with room, and says what the room is', () => {
  expect(checkWish(build, usualWish).pack_mm).toBe(5);
});
