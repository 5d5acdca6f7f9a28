import type { EstimateCell, Message } from "./schema.js";

/** A cell without numbers, with the reason. */
export function emptyCell(
  { label, of, n, clusters }: Pick<EstimateCell, "label" | "of" | "n" | "clusters">,
  status: "withheld" | "unknown",
  reason: Message,
): EstimateCell {
  return {
    label,
    of,
    n,
    clusters,
    status,
    reason,
    value: null,
    standardError: null,
    degreesOfFreedom: null,
    interval: null,
    intervalMethod: null,
    designEffect: null,
  };
}
