import type { Verdict } from "./comparison.js";

/** Whether a difference is more than chance, whichever way it goes; null where there is none. */
export const isClear = ({ verdict }: { readonly verdict: Verdict | null }): boolean =>
  verdict === "rise" || verdict === "fall";
