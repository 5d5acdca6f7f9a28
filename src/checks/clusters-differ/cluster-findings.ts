import type { Reading } from "../../results/schema.js";
import { holm } from "../../stats/holm.js";
import { chanceLevel } from "../shared/reading.js";
import type { IndexAlikeness, OutcomeDispersion } from "./cluster-cases.js";

/** What one component of the check found. */
export interface ClusterFinding {
  readonly subject: string;
  readonly kind: "even" | "clumped";
  readonly ratio: number;
  /** After Holm's control over all components of the check. */
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

/** All numbers of the check. */
export interface ClustersDifferNumbers {
  readonly clusters: number;
  readonly children: number;
  readonly meanSize: number;
  readonly dispersions: readonly OutcomeDispersion[];
  readonly alikeness: readonly IndexAlikeness[];
  /** The ratio beyond which clumping is read; see `ordinaryRatio`. */
  readonly ordinaryRatio: number;
  readonly findings: readonly ClusterFinding[];
}

/** Median design effects of all three indicators lay below 2 in 380 surveys: Hulland et al. 2016, confirmed. */
const ordinaryAt25 = 2;

/** Clusters larger than 25 children are let clump in proportion (same intracluster correlation). Judgement. */
const correlationAt25 = (ordinaryAt25 - 1) / 24;

/** Practical size of too even: at least three tenths below what chance alone gives; half of it for doubt. Judgement. */
const evenExplain = 0.7;

const evenDoubt = 0.5;

/** Clumping twice as strong again as the ordinary ratio: then few clusters carry the prevalence. Judgement. */
const clumpedDoubtTimes = 2;

/** The ratio up to which clumping is ordinary, by the mean size of a cluster. */
export function ordinaryRatio(meanSize: number): number {
  return Math.max(ordinaryAt25, 1 + (meanSize - 1) * correlationAt25);
}

/** Every component in one family: even cases, even means, clumped cases. */
export function findingsOf(
  cases: readonly OutcomeDispersion[],
  means: readonly IndexAlikeness[],
  ordinary: number,
): ClusterFinding[] {
  const components = [
    ...cases.map((one) => ({
      subject: one.outcome as string,
      kind: "even" as const,
      ratio: one.tails.ratio,
      probability: one.tails.probabilityEven,
      strong: 1,
    })),
    ...means.map((one) => ({
      subject: one.index as string,
      kind: "even" as const,
      ratio: one.intraclass.f,
      probability: one.intraclass.probabilityEven,
      strong: 1,
    })),
    ...cases.map((one) => ({
      subject: one.outcome as string,
      kind: "clumped" as const,
      ratio: one.tails.ratio,
      probability: one.tails.probabilityAbove(ordinary),
      strong: one.tails.probabilityAbove(ordinary * clumpedDoubtTimes),
    })),
  ];
  const adjusted = holm(components.map((component) => component.probability));
  return components.map(({ subject, kind, ratio, strong }, i) => {
    const adjustedProbability = adjusted[i] ?? Number.NaN;
    const doubt =
      adjustedProbability < chanceLevel.doubt && (kind === "even" ? ratio <= evenDoubt : strong < chanceLevel.doubt);
    const explain = adjustedProbability < chanceLevel.explain && (kind === "clumped" || ratio <= evenExplain);
    return { subject, kind, ratio, adjustedProbability, reading: doubt ? "doubt" : explain ? "explain" : "expected" };
  });
}
