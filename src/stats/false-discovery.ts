/**
 * Benjamini-Hochberg adjusted probabilities: those at or below q control the expected share of false findings at q.
 * With the m probabilities sorted, adjusted_(i) = min over j >= i of (m / j) p_(j), at most 1. NaN stays NaN and is not
 * counted. Returned in the order given.
 *
 * Source: Benjamini and Hochberg, J R Stat Soc B 1995;57:289-300.
 */
export function benjaminiHochberg(probabilities: readonly number[]): number[] {
  const order = probabilities.map((_, i) => i).filter((i) => !Number.isNaN(probabilities[i] as number));
  order.sort((a, b) => (probabilities[a] as number) - (probabilities[b] as number));
  const adjusted = probabilities.map(() => Number.NaN);
  let smallest = 1;
  for (let rank = order.length; rank >= 1; rank--) {
    const i = order[rank - 1] as number;
    smallest = Math.min(smallest, ((probabilities[i] as number) * order.length) / rank);
    adjusted[i] = smallest;
  }
  return adjusted;
}
