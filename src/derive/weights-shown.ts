import type { Children } from "./children.js";

/** What the sampling weights of the children look like. */
export interface WeightsShown {
  /** Children with a weight above 0, and those without one, who count nowhere. */
  readonly n: number;
  readonly without: number;
  /** Kish's effective number: (sum w)^2 / sum w^2. */
  readonly effective: number;
  /** Share of all weight that the heaviest child holds. */
  readonly heaviestShare: number;
  /** Share of all weight that the heaviest twentieth of the children holds, rounded up to whole children. */
  readonly topShare: number;
  readonly topCount: number;
  /** Heaviest and lightest weight over the mean weight. */
  readonly heaviest: number;
  readonly lightest: number;
  /** True where all weights are the same but for rounding. */
  readonly constant: boolean;
}

/** The part of the children looked at together: the heaviest twentieth. */
const heaviestPart = 0.05;

const isWeight = (weight: number): boolean => weight > 0 && weight < Number.POSITIVE_INFINITY;

/**
 * The weights of the children: Kish's effective number n_eff = (sum w)^2 / sum w^2, which is n / (1 + cv^2) with cv the
 * coefficient of variation of the weights; and what share of the weight the heaviest hold. Null without weights, or where
 * no child has one.
 *
 * Source: Kish, Survey Sampling, 1965; Kish, J Off Stat 1992;8:183-200 (both from memory).
 */
export function weightsShown({
  samplingWeight,
  count,
}: Pick<Children, "samplingWeight" | "count">): WeightsShown | null {
  if (samplingWeight === null) return null;
  const weights = samplingWeight.filter(isWeight).sort((a, b) => b - a);
  const n = weights.length;
  if (n === 0) return null;
  const [heaviest, lightest] = [weights[0] as number, weights[n - 1] as number];
  // Over the heaviest, so that no sum of squares is infinite.
  const sum = weights.reduce((all, weight) => all + weight / heaviest, 0);
  const squares = weights.reduce((all, weight) => all + (weight / heaviest) ** 2, 0);
  const topCount = Math.ceil(heaviestPart * n);
  const top = weights.slice(0, topCount).reduce((all, weight) => all + weight / heaviest, 0);
  return {
    n,
    without: count - n,
    effective: sum ** 2 / squares,
    heaviestShare: 1 / sum,
    topShare: top / sum,
    topCount,
    heaviest: n / sum,
    lightest: (lightest / heaviest) * (n / sum),
    constant: lightest >= heaviest * (1 - 1e-6),
  };
}

/**
 * From which share of all weight one child is called heavy, where it is also ten times the mean weight: our own lines, no
 * published limit was found.
 */
export const heavyChild = { explain: 0.01, doubt: 0.05, timesMean: 10 } as const;

/** Below which share of the children their effective number is called small: our own lines. */
export const fewEffective = { explain: 0.5, doubt: 0.2 } as const;

/** Whether a child of this share of the weight is heavy, among `n` children. */
export function isHeavy(share: number, n: number): boolean {
  return share >= heavyChild.explain && share * n >= heavyChild.timesMean;
}

/** The children that are heavy each by itself, with their weight over the mean weight. */
export function heavyChildren(
  children: Pick<Children, "samplingWeight" | "count">,
): { readonly child: number; readonly timesMean: number }[] {
  const weights = children.samplingWeight;
  const shown = weightsShown(children);
  if (weights === null || shown === null) return [];
  let total = 0;
  for (const weight of weights) if (isWeight(weight)) total += weight;
  return [...weights.keys()].flatMap((child) => {
    const weight = weights[child] as number;
    const share = weight / total;
    return isWeight(weight) && isHeavy(share, shown.n) ? [{ child, timesMean: share * shown.n }] : [];
  });
}
