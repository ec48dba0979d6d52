/**
 * Reference functions of thermocouples and the printed approximations to their inverses. Signals in mV, temperatures in °C, the
 * cold junction at 0 °C, constant term first.
 *
 * Below -200 °C (-210 °C for type J) no inverse is printed, because the signal hardly changes there; above the upper ends
 * other pieces follow, which no bench of ours reaches.
 *
 * @source [NIST-MONO-175] tables of coefficients, the same as in [IEC-60584-1]
 */
export interface ThermocoupleFunctions {
  readonly range_C: readonly [number, number];
  readonly below0: readonly number[];
  readonly from0: readonly number[];
  /** Added from 0 °C upwards and never below: a0 exp(a1 (t - a2)²). */
  readonly bell?: readonly [number, number, number];
  /** Temperature from signal, right to some 0.05 K: where the exact inverse starts from, never the answer. */
  readonly inverseBelow0: readonly number[];
  readonly inverseFrom0: readonly number[];
}

const functionOfJ = [
  0, 5.0381187815e-2, 3.047583693e-5, -8.568106572e-8, 1.3228195295e-10, -1.7052958337e-13, 2.0948090697e-16,
  -1.2538395336e-19, 1.5631725697e-23,
];

export const thermocoupleFunctions = {
  K: {
    range_C: [-200, 500],
    below0: [
      0, 3.9450128025e-2, 2.3622373598e-5, -3.2858906784e-7, -4.9904828777e-9, -6.7509059173e-11,
      -5.7410327428e-13, -3.1088872894e-15, -1.0451609365e-17, -1.9889266878e-20, -1.6322697486e-23,
    ],
    from0: [
      -1.7600413686e-2, 3.8921204975e-2, 1.8558770032e-5, -9.9457592874e-8, 3.1840945719e-10,
      -5.6072844889e-13, 5.6075059059e-16, -3.2020720003e-19, 9.7151147152e-23, -1.2104721275e-26,
    ],
    bell: [1.185976e-1, -1.183432e-4, 1.269686e2],
    inverseBelow0: [
      0, 2.5173462e1, -1.1662878, -1.0833638, -8.977354e-1, -3.7342377e-1, -8.6632643e-2, -1.0450598e-2,
      -5.1920577e-4,
    ],
    inverseFrom0: [
      0, 2.508355e1, 7.860106e-2, -2.503131e-1, 8.31527e-2, -1.228034e-2, 9.804036e-4, -4.41303e-5,
      1.057734e-6, -1.052755e-8,
    ],
  },
  J: {
    range_C: [-210, 760],
    // One function serves from -210 to 760 °C.
    below0: functionOfJ,
    from0: functionOfJ,
    inverseBelow0: [
      0, 1.9528268e1, -1.2286185, -1.0752178, -5.9086933e-1, -1.7256713e-1, -2.8131513e-2, -2.396337e-3,
      -8.3823321e-5,
    ],
    inverseFrom0: [
      0, 1.978425e1, -2.001204e-1, 1.036969e-2, -2.549687e-4, 3.585153e-6, -5.344285e-8, 5.09989e-10,
    ],
  },
  T: {
    range_C: [-200, 400],
    below0: [
      0, 3.8748106364e-2, 4.4194434347e-5, 1.1844323105e-7, 2.0032973554e-8, 9.0138019559e-10,
      2.2651156593e-11, 3.6071154205e-13, 3.8493939883e-15, 2.8213521925e-17, 1.4251594779e-19,
      4.8768662286e-22, 1.079553927e-24, 1.3945027062e-27, 7.9795153927e-31,
    ],
    from0: [
      0, 3.8748106364e-2, 3.329222788e-5, 2.0618243404e-7, -2.1882256846e-9, 1.0996880928e-11,
      -3.0815758772e-14, 4.547913529e-17, -2.7512901673e-20,
    ],
    inverseBelow0: [
      0, 2.5949192e1, -2.1316967e-1, 7.9018692e-1, 4.2527777e-1, 1.3304473e-1, 2.0241446e-2, 1.2668171e-3,
    ],
    inverseFrom0: [0, 2.5928e1, -7.602961e-1, 4.637791e-2, -2.165394e-3, 6.048144e-5, -7.293422e-7],
  },
  N: {
    range_C: [-200, 600],
    below0: [
      0, 2.6159105962e-2, 1.0957484228e-5, -9.3841111554e-8, -4.6412039759e-11, -2.6303357716e-12,
      -2.2653438003e-14, -7.6089300791e-17, -9.3419667835e-20,
    ],
    from0: [
      0, 2.5929394601e-2, 1.571014188e-5, 4.3825627237e-8, -2.5261169794e-10, 6.4311819339e-13,
      -1.0063471519e-15, 9.9745338992e-19, -6.0863245607e-22, 2.0849229339e-25, -3.0682196151e-29,
    ],
    inverseBelow0: [
      0, 3.8436847e1, 1.1010485, 5.2229312, 7.2060525, 5.8488586, 2.7754916, 7.7075166e-1, 1.1582665e-1,
      7.3138868e-3,
    ],
    inverseFrom0: [0, 3.86896e1, -1.08267, 4.70205e-2, -2.12169e-6, -1.17272e-4, 5.3928e-6, -7.98156e-8],
  },
} satisfies Record<string, ThermocoupleFunctions>;
