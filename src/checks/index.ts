import type { AnyCheck } from "./run.js";

/** Every check, in the order of the report: who was measured, how, what came out, where differences lie. */
export const checks: readonly AnyCheck[] = [];
