/** Loss at which a pack counts as worn out. @source common practice, no source: 80 % of the initial capacity, as vehicle tests have it */
export const endLoss = 0.2;
/** Longest life that is told apart; beyond it an answer is "more than". */
export const longestLife_years = 100;
export const shortestLife_years = 1 / 365;
