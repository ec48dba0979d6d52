/**
 * p-values of several tests, raised so that the chance of any false one among them is held (Holm's step-down).
 *
 * Needs nothing of how the tests depend on each other. Where logic allows only `true` of the hypotheses to be true at once,
 * say so: a smaller factor is then enough.
 *
 * @param values p-values, each 0 to 1
 * @param mostTrue how many of the hypotheses can be true together; all of them without it
 * @returns in the order given, each at most 1
 * @source [HOLM-1979]; [SHAFFER-1986] for hypotheses that exclude each other
 */
export function adjustHolm(values: readonly number[], mostTrue = values.length): number[] {
  const order = values.map((_, index) => index).sort((a, b) => (values[a] as number) - (values[b] as number));
  const adjusted = new Array<number>(values.length).fill(1);
  let highest = 0;
  order.forEach((index, rank) => {
    const factor = Math.min(mostTrue, values.length - rank);
    highest = Math.max(highest, Math.min(1, factor * (values[index] as number)));
    adjusted[index] = highest;
  });
  return adjusted;
}
