/**
 * Holm's adjusted probabilities: those at or below alpha control the chance of any false finding at alpha.
 * With the m probabilities sorted, adjusted_(i) = max over j <= i of (m - j + 1) p_(j), at most 1. NaN stays NaN and is
 * not counted. Returned in the order given.
 *
 * Source: Holm, Scand J Stat 1979;6:65-70.
 */
export function holm(probabilities: readonly number[]): number[] {
  const order = probabilities.map((_, i) => i).filter((i) => !Number.isNaN(probabilities[i] as number));
  order.sort((a, b) => (probabilities[a] as number) - (probabilities[b] as number));
  const adjusted = probabilities.map(() => Number.NaN);
  let largest = 0;
  order.forEach((i, position) => {
    largest = Math.max(largest, Math.min(1, (probabilities[i] as number) * (order.length - position)));
    adjusted[i] = largest;
  });
  return adjusted;
}
