import { describe, expect, test } from 'vitest';
import { makeNoise } from '../numerics/index.js';
import type { Build, Probe, SensorFacts } from '../records/index.js';
import { correctedU_K, correctionU_K, differenceU_K, gainU } from './apply-correction.js';
import { correctProbes } from './correct-probes.js';
import type { Correction } from './correction.js';
import { describeSensor } from './describe-sensor.js';
import { coldJunctionDoubt } from './unchecked-doubt.js';

const probe = (more: Partial<Probe> = {}): Probe => ({
  id: 'p',
  name: 'P',
  place: 'cell',
  attachment_u_K: 0,
  ...more,
});
const typeK = (more: object = {}): SensorFacts => ({ kind: 'thermocouple', type: 'K', ...more });
const ice: Build['probeChecks'] = [
  {
    id: 'ice',
    model: 'offset',
    points: [{ reference: { kind: 'ice' }, readings: [{ probe: 'p', reading_C: 0.3 }] }],
  },
];
function correctionOf(one: Probe, probeChecks: Build['probeChecks'] = []): Correction {
  return correctProbes({ probes: [one], probeChecks })[0] as Correction;
}

describe('a probe without a check', () => {
  // [IEC-60584-1] and [IEC-60751] classes, each as a rectangle [JCGM-100] 4.3.7: half-width over √3, by hand.
  test.each([
    { sensor: typeK({ class: '1' }), at_C: 60, u_K: 0.8660254 },
    { sensor: typeK({ class: '2' }), at_C: 60, u_K: 1.4433757 },
    { sensor: { kind: 'thermocouple', type: 'T', class: '1' } as const, at_C: 60, u_K: 0.2886751 },
    {
      sensor: { kind: 'platinum', element: 'Pt100', class: 'A' } as const,
      at_C: 100,
      u_K: 0.35 / Math.sqrt(3),
    },
    {
      sensor: { kind: 'platinum', element: 'Pt100', class: 'B' } as const,
      at_C: 40,
      u_K: 0.5 / Math.sqrt(3),
    },
    {
      sensor: { kind: 'ntc-beta', r25_ohm: 1e4, beta_K: 3435, tolerance_K: 0.2 } as const,
      at_C: 40,
      u_K: 0.1154701,
    },
  ])('has the doubt its sensor’s class leaves: $u_K K at $at_C °C', ({ sensor, at_C, u_K }) => {
    expect(correctionU_K(correctionOf(probe({ sensor })), at_C)).toBeCloseTo(u_K, 6);
  });

  test('has its maker’s figure where one is recorded, and an assumed one where nothing is', () => {
    expect(correctionU_K(correctionOf(probe({ sensor: typeK(), maker_u_K: 0.4 })), 40)).toBeCloseTo(0.4, 12);
    expect(correctionU_K(correctionOf(probe()), 40)).toBeCloseTo(0.8660254, 6);
    const ntc = probe({ sensor: { kind: 'ntc-beta', r25_ohm: 1e4, beta_K: 3435 } });
    expect(correctionU_K(correctionOf(ntc), 40)).toBeCloseTo(0.8660254, 6);
  });

  // Two uncalibrated class 1 probes of type K: √2 times 0.866 K, so a difference of 1 K between them proves nothing.
  test('is alone with its doubt in a difference to another, and has no more than its gain in its own', () => {
    const one = correctionOf(probe({ sensor: typeK({ class: '1' }) }));
    expect(differenceU_K(one, 45, { ...one, probe: 'q' }, 44)).toBeCloseTo(1.2247449, 6);
    // Limits of 1.5 K at both ends of 100 K, each as a rectangle: √2 × 0.866 / 100.
    expect(differenceU_K(one, 45, one, 44)).toBeCloseTo(0.0122474, 7);
    // A class that grows with temperature leaves its slope as well: 0.005 K per kelvin over √3, beside 0.55 K at 50 °C as above.
    const pt = correctionOf(probe({ sensor: { kind: 'platinum', element: 'Pt100', class: 'B' } }));
    expect(differenceU_K(pt, 45, pt, 44)).toBeCloseTo(
      Math.hypot(0.005, (Math.SQRT2 * 0.55) / 100) / Math.sqrt(3),
      9,
    );
  });
});

describe('the cold junction', () => {
  // [NIST-MONO-175] slopes at 25 and 50 °C: 40.518 and 41.246 µV/K.
  test('counts by its weight, stated or assumed', () => {
    const doubt = (coldJunction: object) => coldJunctionDoubt({ sensor: typeK({ coldJunction }) });
    expect(doubt({ kind: 'fixed', fixed_C: 25, u_K: 2 })?.u_K).toBeCloseTo((2 * 40.518) / 41.246, 3);
    expect(doubt({ kind: 'fixed', fixed_C: 25 })).toMatchObject({ isAssumed: true, isLasting: false });
    expect(doubt({ kind: 'logged' })).toMatchObject({ isAssumed: true, isLasting: true });
    expect(coldJunctionDoubt({ sensor: typeK() })).toBeNull();
  });

  test('that is logged is taken out by a check; one that was only stated is not', () => {
    const logged = probe({ sensor: typeK({ coldJunction: { kind: 'logged', u_K: 0.5 } }) });
    const fixed = probe({ sensor: typeK({ coldJunction: { kind: 'fixed', fixed_C: 25, u_K: 1 } }) });
    // One bath leaves the gain open, and that by the class: the same sensor without a word on its cold junction is what to hold it against.
    const bare_u_K = correctedU_K(correctionOf(probe({ sensor: typeK() }), ice), 40);
    expect(correctedU_K(correctionOf(logged, ice), 40)).toBeCloseTo(bare_u_K, 12);
    expect(correctedU_K(correctionOf(fixed, ice), 40)).toBeCloseTo(Math.hypot(bare_u_K, 40.518 / 41.246), 4);
    expect(correctedU_K(correctionOf(logged), 40)).toBeCloseTo(
      Math.hypot(1.4433757, (0.5 * 40.518) / 41.246),
      4,
    );
  });
});

describe('a sensor in words', () => {
  const told = (one: Probe, checks?: Build['probeChecks']) =>
    describeSensor(one, correctionOf(one, checks), 45);

  test('says what it is and what its doubt stands on', () => {
    expect(
      told(probe({ sensor: typeK({ class: '2', coldJunction: { kind: 'fixed', fixed_C: 23.5 } }) })),
    ).toMatchObject({
      sensor: 'Type K thermocouple, class 2, cold junction taken to be at 23.5 °C',
      basis: 'tolerance',
      basisWords:
        'not checked: class 2 allows ± 2.50 K at 45 °C, all equally likely, u 1.44 K; cold junction u 0.98 K (assumed), which does not cancel between runs',
      tolerance_K: 2.5,
      signal: 'mV',
      source: 'NIST-MONO-175',
    });
    expect(told(probe({ sensor: typeK() })).sensor).toBe(
      'Type K thermocouple, class 2 (not stated), cold junction left to the logger',
    );
    expect(
      told(probe({ sensor: { kind: 'platinum', element: 'Pt1000', class: 'A', lead_ohm: 0.8 } })).sensor,
    ).toBe('Pt1000, class A, 0.8 Ω of leads taken off');
  });

  test('names check, maker or assumption where these decide', () => {
    expect(told(probe({ sensor: typeK() }), ice).basisWords).toBe('the check “ice”');
    expect(told(probe({ maker_u_K: 0.5 }))).toMatchObject({
      sensor: null,
      basisWords: 'its maker’s figure, u 0.50 K',
    });
    expect(told(probe()).basisWords).toBe(
      'neither check, maker’s figure nor class: ± 1.5 K assumed, u 0.87 K',
    );
  });

  test('tells facts that cannot be', () => {
    const rows = [
      { at_C: 0, resistance_ohm: 100 },
      { at_C: 50, resistance_ohm: 200 },
    ];
    const report = told(probe({ sensor: { kind: 'ntc-table', rows } }));
    expect(report).toMatchObject({ sensor: null, basis: 'assumed' });
    expect(report.fault).toContain('100 Ω at 0 °C and 200 Ω at 50 °C');
  });
});

describe('the gain of a probe that no check tells', () => {
  const k1 = probe({ sensor: typeK({ class: '1' }) });
  // Lines of error drawn evenly from all that stay within ±1.5 K from 0 to 100 °C: their slopes scatter by so much.
  const drawn = (() => {
    const noise = makeNoise(4711);
    let squares = 0;
    let kept = 0;
    while (kept < 200_000) {
      const at0_K = 3 * noise.uniform() - 1.5;
      const at100_K = 3 * noise.uniform() - 1.5;
      squares += ((at100_K - at0_K) / 100) ** 2;
      kept++;
    }
    return Math.sqrt(squares / kept);
  })();

  test('is as uncertain as lines within the class’s limits are steep', () => {
    expect(gainU(correctionOf(k1))).toBeCloseTo(1.5 / Math.sqrt(6) / 50, 12);
    expect(gainU(correctionOf(k1)) / drawn).toBeCloseTo(1, 2);
  });

  test('stands in a difference read twice, in proportion, and leaves a single reading within its limits', () => {
    const none = correctionOf(k1);
    expect(differenceU_K(none, 64, none, 60)).toBeCloseTo(4 * gainU(none), 12);
    expect(correctionU_K(none, 64)).toBeCloseTo(1.5 / Math.sqrt(3), 12);
  });

  test('grows from the bath after a check in one, and goes with a second', () => {
    const once = correctionOf(k1, ice);
    expect(correctionU_K(once, 0.3)).toBeLessThan(0.1);
    expect(correctionU_K(once, 60.3)).toBeCloseTo(Math.hypot(correctionU_K(once, 0.3), 60 * gainU(once)), 9);
    const both: Build['probeChecks'] = [
      {
        id: 'two',
        model: 'offset-gain',
        points: [
          { reference: { kind: 'ice' }, readings: [{ probe: 'p', reading_C: 0.3 }] },
          {
            reference: { kind: 'reference', reference_C: 98, u_K: 0.1 },
            readings: [{ probe: 'p', reading_C: 98.2 }],
          },
        ],
      },
    ];
    expect(gainU(correctionOf(k1, both))).toBeLessThan(0.002);
  });

  test('is less for a better sensor', () => {
    const pt = probe({ sensor: { kind: 'platinum', element: 'Pt100', class: 'A' } });
    expect(gainU(correctionOf(pt))).toBeLessThan(0.3 * gainU(correctionOf(k1)));
  });
});
