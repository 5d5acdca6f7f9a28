import type { Children, IndexId } from "../../derive/children.js";
import { type OutcomeId, outcome } from "../../derive/outcome.js";
import type { GroupId } from "../../results/group.js";
import { chiSquareQuantile } from "../../stats/chi-square.js";
import { varianceToMean } from "../../stats/dispersion.js";
import { type HeterogeneityTails, heterogeneityTails } from "../../stats/heterogeneity-tails.js";
import { type Intraclass, intraclass } from "../../stats/intraclass.js";
import type { CheckInput } from "../check.js";
import { keptScores, knownIn, ruleOf } from "../shared/kept-scores.js";
import { fewestChildren } from "../shared/reading.js";
import { tooLittle } from "../shared/too-little.js";

type ClusterOutcome = Extract<
  OutcomeId,
  "wasting" | "acute-malnutrition-by-weight-for-height" | "acute-malnutrition-by-arm-circumference" | "stunting"
>;

/** Cases of one cluster; which cluster it is is not kept. */
interface ClusterCases {
  readonly cases: number;
  readonly children: number;
}

/** How the cases of one outcome spread over the clusters. */
export interface OutcomeDispersion {
  readonly of: GroupId;
  readonly outcome: ClusterOutcome;
  readonly n: number;
  readonly cases: number;
  readonly share: number;
  readonly tails: HeterogeneityTails;
  /** Interval of the ratio, from the chi-square distribution. */
  readonly ratioLow: number;
  readonly ratioHigh: number;
  readonly varianceToMean: number;
  readonly greenIndex: number;
  /** Clusters from the lowest to the highest share of cases. */
  readonly clusters: readonly ClusterCases[];
}

/** How alike the z-scores of one cluster are. */
export interface IndexAlikeness {
  readonly of: GroupId;
  readonly index: IndexId;
  readonly intraclass: Intraclass;
}

/** Fewer cases than this are not read: no pattern can show. Judgement. */
export const fewestCases = 10;

/** Order in which outcomes are looked at; acute malnutrition only where oedema makes it differ from wasting. */
const outcomes: readonly ClusterOutcome[] = [
  "wasting",
  "acute-malnutrition-by-weight-for-height",
  "acute-malnutrition-by-arm-circumference",
  "stunting",
];

function casesPerCluster(
  children: Children,
  id: ClusterOutcome,
  codes: Int32Array,
  clusterCount: number,
): ClusterCases[] {
  const columns = outcome(children, id, ruleOf(children));
  const cases = new Float64Array(clusterCount);
  const sizes = new Float64Array(clusterCount);
  for (let child = 0; child < children.count; child++) {
    const code = codes[child] as number;
    if (code < 0 || columns.inDomain[child] !== 1) continue;
    sizes[code] = (sizes[code] as number) + 1;
    cases[code] = (cases[code] as number) + (columns.isCase[child] as number);
  }
  return Array.from(sizes, (size, code) => ({ cases: cases[code] as number, children: size }))
    .filter((cluster) => cluster.children > 0)
    .sort((a, b) => a.cases / a.children - b.cases / b.children || a.children - b.children);
}

/** Dispersion of one outcome; null where there are too few cases, or too few children who are none. */
function dispersionOf(id: ClusterOutcome, of: GroupId, clusters: readonly ClusterCases[]): OutcomeDispersion | null {
  const cases = clusters.map((cluster) => cluster.cases);
  const sizes = clusters.map((cluster) => cluster.children);
  const total = cases.reduce((sum, count) => sum + count, 0);
  const n = sizes.reduce((sum, size) => sum + size, 0);
  if (clusters.length < 2 || total < fewestCases || n - total < fewestCases) return null;
  const tails = heterogeneityTails(cases, sizes);
  const df = clusters.length - 1;
  const trade = varianceToMean(cases);
  return {
    of,
    outcome: id,
    n,
    cases: total,
    share: total / n,
    tails,
    ratioLow: tails.chiSquare / chiSquareQuantile(0.975, df),
    ratioHigh: tails.chiSquare / chiSquareQuantile(0.025, df),
    varianceToMean: trade.ratio,
    greenIndex: trade.greenIndex,
    clusters,
  };
}

/** Dispersion of every outcome that can be read. */
export function dispersions(
  { children, book }: Pick<CheckInput, "children" | "book">,
  codes: Int32Array,
  clusterCount: number,
): OutcomeDispersion[] {
  const found: OutcomeDispersion[] = [];
  for (const id of outcomes) {
    const { inDomain, isCase } = outcome(children, id, ruleOf(children));
    const placed = inDomain.map((inside, child) => ((codes[child] as number) < 0 ? 0 : inside));
    const of = book.subject(id, placed, { isCase }).whole;
    const one = dispersionOf(id, of, casesPerCluster(children, id, codes, clusterCount));
    const wasting = found.find((other) => other.outcome === "wasting");
    const repeats =
      id === "acute-malnutrition-by-weight-for-height" && wasting !== undefined && one?.cases === wasting.cases;
    if (one !== null && !repeats) found.push(one);
  }
  return found;
}

/** Intracluster correlation of every index that can be read. */
export function alikeness(
  { children, book }: Pick<CheckInput, "children" | "book">,
  codes: Int32Array,
  clusterCount: number,
): IndexAlikeness[] {
  const indices: readonly IndexId[] = ["weight-for-height", "height-for-age", "arm-for-age"];
  return indices
    .map((index) => ({ index, scores: keptScores(children, index) }))
    .filter(({ scores }) => tooLittle(scores, fewestChildren) === null)
    .map(({ index, scores }) => ({
      index,
      of: book.subject(`z/${index}`, knownIn(scores), { aboutHealth: true }).whole,
      intraclass: intraclass(scores, codes, clusterCount),
    }))
    .filter(({ intraclass: found }) => found.groups > 1 && found.f > 0 && Number.isFinite(found.f));
}
