import type { Words } from "../words.js";
import type { Spec } from "./figure.js";

/** How a language writes numbers and months, in the form in which the grammar's library takes it (that of d3-format). */
export function localeOf(words: Words): Spec {
  const thousands = /^10(\D*)000/.exec(words.tick(10_000, "count", 0))?.[1] ?? "";
  const months = Array.from({ length: 12 }, (_, month) => words.month(`2001-${String(month + 1).padStart(2, "0")}-01`));
  return {
    number: {
      decimal: /\D/.exec(words.tick(0.5, "z", 1).replace(/^0/, ""))?.[0] ?? ".",
      thousands,
      grouping: [3],
      currency: ["", ""],
      percent: words.tick(0.1, "share", 0).replace(/^10/, ""),
      minus: words.tick(-1, "z", 0).replace("1", ""),
    },
    time: {
      dateTime: "%x",
      date: "%d/%m/%Y",
      time: "%H:%M",
      periods: ["", ""],
      days: Array(7).fill(""),
      shortDays: Array(7).fill(""),
      months,
      shortMonths: months,
    },
  };
}
