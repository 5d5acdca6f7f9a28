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

/**
 * For each of m probabilities, the value at or below which it would be among the findings of the Benjamini-Hochberg
 * procedure at `level`, all the others staying as they are: level * j / m with j the largest rank for which at least
 * j - 1 of the others lie at or below level * j / m. So benjaminiHochberg(p)_i <= level exactly where p_i does not exceed
 * it. NaN is not counted and gets NaN.
 */
export function criticalProbabilities(probabilities: readonly number[], level: number): number[] {
  const sorted = probabilities.filter((p) => !Number.isNaN(p)).sort((a, b) => a - b);
  const m = sorted.length;
  // For each rank j, how many of all lie at or below its limit.
  const within = new Int32Array(m + 1);
  for (let rank = 1, found = 0; rank <= m; rank++) {
    while (found < m && (sorted[found] as number) <= (level * rank) / m) found += 1;
    within[rank] = found;
  }
  const lastRank = (missing: (rank: number) => number): number => {
    for (let rank = m; rank > 1; rank--) if ((within[rank] as number) - missing(rank) >= rank - 1) return rank;
    return 1;
  };
  return probabilities.map((own) =>
    Number.isNaN(own) ? Number.NaN : (level * lastRank((rank) => (own <= (level * rank) / m ? 1 : 0))) / m,
  );
}
