import { withholdBelow } from "../../results/withhold-below.js";
import { countOf } from "../changed.js";
import type { Repair } from "../repairs/repair.js";
import type { Headline } from "../scenario.js";

/**
 * Those of the estimate's children whose data the draws leave as they are. Where these are few, everything about them is mixed
 * with what was drawn of all others, and the figure tells of nobody as the file has them.
 */
export function untouched({ published }: Headline, repairs: readonly Repair[]): Uint8Array {
  const left = published.speaks.members.map((inside, i) =>
    repairs.some(({ touched }) => touched[i] === 1) ? 0 : inside,
  );
  return countOf(left) < withholdBelow ? left.fill(0) : left;
}
