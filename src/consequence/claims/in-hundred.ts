import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";

/** A chance as 'n in 100': never above 99 nor below 1, since none is known better than that. */
export const hundredths = (chance: number): number => Math.min(99, Math.max(1, Math.round(100 * chance)));

export const inHundred = (chance: number | null): Message | null =>
  chance === null ? null : message("claims.in-hundred", { chance: hundredths(chance) });
