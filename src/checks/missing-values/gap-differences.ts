import type { Children } from "../../derive/children.js";
import { raoScott } from "../../stats/design/rao-scott.js";
import { makeDesign } from "../../stats/design/survey-design.js";
import { measurementDesign } from "../shared/clustering.js";
import { fewestChildren } from "../shared/reading.js";
import type { Gaps } from "./gaps.js";

/** Whether children who lack a measure are of another sex, age or area than the others. */
export interface GapDifference {
  readonly by: "sex" | "age" | "area";
  /** Rao-Scott test. */
  readonly probability: number;
  /** Largest share less smallest, among groups of 25 children or more. */
  readonly size: number;
}

/** With fewer cases than this a comparison says nothing: own judgement. */
const fewestCases = 10;

function ageCode(months: number): number {
  if (Number.isNaN(months)) return -1;
  return months < 6 ? 0 : months < 24 ? 1 : 2;
}

function spreadOf({ isCase, inDomain }: Gaps, codes: ArrayLike<number>, groups: number): number {
  const n = new Float64Array(groups);
  const cases = new Float64Array(groups);
  for (let i = 0; i < inDomain.length; i++) {
    const code = codes[i] as number;
    if (code < 0 || inDomain[i] !== 1) continue;
    n[code] = (n[code] as number) + 1;
    cases[code] = (cases[code] as number) + (isCase[i] as number);
  }
  const shares = [...n.keys()]
    .filter((g) => (n[g] as number) >= fewestChildren)
    .map((g) => (cases[g] as number) / (n[g] as number));
  return shares.length < 2 ? Number.NaN : Math.max(...shares) - Math.min(...shares);
}

/** Compares where there are at least ten children with a gap and two groups of 25; what cannot be compared is left out. */
export function gapDifferences(children: Children, gaps: Gaps): GapDifference[] {
  if (gaps.isCase.reduce((sum, is) => sum + is, 0) < fewestCases) return [];
  const design =
    measurementDesign(children) ?? makeDesign({ count: children.count, cluster: null, stratum: null, weight: null });
  const compare = (by: GapDifference["by"], codes: ArrayLike<number>, groups: number): GapDifference[] => {
    const size = spreadOf(gaps, codes, groups);
    const { probability } = raoScott(design, gaps.isCase, codes, groups, gaps.inDomain);
    return Number.isNaN(size) || Number.isNaN(probability) ? [] : [{ by, probability, size }];
  };
  const { area } = children;
  return [
    ...compare(
      "sex",
      Int32Array.from(children.sex, (code) => code - 1),
      2,
    ),
    ...compare("age", Int32Array.from(children.ageMonths, ageCode), 3),
    ...(area === null ? [] : compare("area", area.codes, area.labels.length)),
  ];
}
