import { message } from "../../results/message.js";
import type { Chart, EstimateResult, Message, Results } from "../../results/schema.js";
import { groupHeading, nameOf } from "./estimate-sentences.js";

/** The subgroups of a prevalence on one axis, with the survey's own value marked. */
export function subgroupChart(estimate: EstimateResult): Chart | null {
  const overall = estimate.overall;
  if (overall?.value == null || estimate.subgroups.length === 0) return null;
  return {
    kind: "intervals",
    id: `${estimate.id}-subgroups`,
    title: message("prevalence.chart.subgroups", {
      estimate: nameOf(estimate),
    }),
    alternative: rangeSentence(estimate, overall.value),
    x: { label: message("axis.prevalence"), unit: "share" },
    lines: [{ at: overall.value, label: message("prevalence.chart.overall") }],
    rows: estimate.subgroups.flatMap((group) =>
      group.cells.map((cell) => ({
        group: groupHeading(group),
        label: cell.label,
        value: cell.value,
        low: cell.interval?.low ?? null,
        high: cell.interval?.high ?? null,
        n: cell.n,
        of: cell.of,
        marked: cell.status === "marked",
      })),
    ),
  };
}

/** The lowest and the highest group in a sentence. */
function rangeSentence(estimate: EstimateResult, value: number): Message {
  const cells = estimate.subgroups.flatMap((group) => group.cells).filter((cell) => cell.value !== null);
  const sorted = [...cells].sort((a, b) => (a.value ?? 0) - (b.value ?? 0));
  const lowest = sorted[0];
  const highest = sorted.at(-1);
  const base = { estimate: nameOf(estimate), value };
  if (lowest?.value == null || highest?.value == null || lowest === highest) {
    return message("prevalence.chart.subgroups.none", base);
  }
  return message("prevalence.chart.subgroups.alternative", {
    ...base,
    lowest: lowest.label,
    lowestValue: lowest.value,
    highest: highest.label,
    highestValue: highest.value,
  });
}

/** Headline picture of the first page: the estimates for which classes are published, on their class bands. */
export function headlineChart(results: Results): Chart | null {
  const rows = results.estimates.flatMap((estimate) => {
    const cell = estimate.overall;
    const classes = cell?.classification;
    if (cell?.value == null || classes === undefined) return [];
    return [
      {
        label: nameOf(estimate),
        value: cell.value,
        low: cell.interval?.low ?? null,
        high: cell.interval?.high ?? null,
        n: cell.n,
        of: cell.of,
        marked: cell.status === "marked",
        bands: (classes.limits ?? []).map((limit, i, all) => ({
          from: limit.from,
          to: all[i + 1]?.from ?? 1,
          label: message(`class.${limit.class}`),
        })),
      },
    ];
  });
  if (rows.length === 0) return null;
  const parts = rows.map((row) => message("summary.chart.part", { estimate: row.label, value: row.value }));
  return {
    kind: "prevalence-bands",
    id: "headline",
    title: message("summary.chart.title"),
    alternative: message("summary.chart.alternative", { parts }),
    rows,
  };
}
