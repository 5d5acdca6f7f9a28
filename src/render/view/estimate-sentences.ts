import { message } from "../../results/message.js";
import type { EstimateCell, EstimateResult, Message } from "../../results/schema.js";
import { emDash } from "../numbers.js";
import type { Words } from "../words.js";

/** What the estimate is called. */
export const nameOf = (estimate: EstimateResult): Message => message(`estimate.${estimate.id}`);

/** What the subgroups are made by: a trait every survey has, or a column of the data. */
export const groupHeading = (group: EstimateResult["subgroups"][number]): Message =>
  group.columnName === undefined
    ? message(`subgroup.${group.by}`)
    : message("subgroup.column", { name: group.columnName });

/** Why an estimate is not there, or has no interval; each reason once. */
export function reasonsOf(estimates: readonly EstimateResult[], words: Words): string[] {
  const missing = estimates.flatMap(({ reason }) => (reason === undefined ? [] : [words.text(reason)]));
  const withoutInterval = estimates.flatMap(({ overall }) =>
    overall?.reason === undefined ? [] : [words.text(message("prevalence.no-interval", { reason: overall.reason }))],
  );
  return [...new Set([...missing, ...withoutInterval])];
}

/** The family's first estimate in a sentence, or that none could be made. */
export function findingOf(estimates: readonly EstimateResult[], words: Words): string {
  const first = estimates.find((estimate) => estimate.overall?.value != null);
  const cell = first?.overall;
  if (first === undefined || cell === null || cell === undefined) {
    return words.text(message("prevalence.finding.none"));
  }
  const unit = first.kind === "mean" ? "z" : "share";
  const value = words.number(cell.value, unit);
  const values = {
    estimate: nameOf(first),
    value,
    interval: words.interval(cell.interval, unit),
  };
  if (first.kind === "mean") return words.text(message("prevalence.finding.mean", values));
  if (cell.interval === null) return words.text(message("prevalence.finding.no-interval", values));
  if (cell.classification === undefined) return words.text(message("prevalence.finding.share", values));
  return words.text(
    message("prevalence.finding.class", {
      ...values,
      class: classText(cell, words),
    }),
  );
}

/** The class with its scheme; every class its interval touches. */
export function classText(cell: EstimateCell, words: Words): string {
  const classes = cell.classification;
  if (classes === undefined) return emDash;
  const at = message(`class.${classes.at}`);
  const scheme = message(`scheme.${classes.scheme}`);
  const others = classes.span.filter((name) => name !== classes.at).map((name) => message(`class.${name}`));
  if (others.length === 0) return words.text(message("prevalence.class.one", { class: at, scheme }));
  return words.text(message("prevalence.class.several", { class: at, scheme, others }));
}
