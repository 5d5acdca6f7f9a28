import { type IndexId, indexIds } from "../derive/children.js";
import type { MeanEstimate } from "./estimate.js";

function meanOf(index: IndexId): MeanEstimate {
  return { id: `mean-${index}`, family: "means", kind: "mean", index, sources: ["who-2006"] };
}

/** Mean and standard deviation of every index. */
export const means: readonly MeanEstimate[] = indexIds.map(meanOf);
