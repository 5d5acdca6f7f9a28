import { message } from "../../results/message.js";
import type { MessageId } from "../../results/message-ids.js";
import type { EstimateCell, EstimateResult, Results } from "../../results/schema.js";
import type { Words } from "../words.js";
import { classText, groupHeading, nameOf } from "./estimate-sentences.js";
import { figureCell, makeTable, numberCell, type TableView, textCell } from "./table.js";

type Cellish = ReturnType<typeof textCell>;

const columnsOf = (ids: readonly string[], textual: readonly string[], words: Words): TableView["columns"] =>
  ids.map((id) => ({
    label: words.text(message(`table.estimates.${id}`)),
    numeric: !textual.includes(id),
  }));

/** The prevalences of a family for the whole survey, with their classes where some are published. */
export function overallTable(family: string, estimates: readonly EstimateResult[], words: Words): TableView {
  const classed = estimates.some((estimate) => estimate.overall?.classification !== undefined);
  const ids = ["estimate", "children", "value", "interval", "design-effect", ...(classed ? ["class"] : [])];
  return makeTable(
    {
      id: `prevalence-${family}-overall`,
      caption: words.text(
        message("table.estimates.caption", {
          family: message(`family.${family}`),
        }),
      ),
      columns: columnsOf(ids, ["estimate", "class"], words),
      notes: [],
    },
    estimates.map((estimate) => {
      const cell = estimate.overall as EstimateCell;
      const last = classed ? [textCell(classText(cell, words))] : [];
      return [
        textCell(words.text(nameOf(estimate))),
        ...figuresOf(cell, "share", words),
        numberCell(cell.designEffect, "ratio", words),
        ...last,
      ];
    }),
  );
}

/** Why no value stands there. A value that was to be shown and is not there was not computed. */
function absenceOf({ status }: EstimateCell): MessageId {
  return status === "withheld" || status === "unknown" ? `cell.status.${status}` : "cell.not-computed";
}

/** Children, value and interval; a withheld or unknown value says so in its place. */
function figuresOf(cell: EstimateCell, unit: "share" | "z", words: Words): Cellish[] {
  const value = cell.value === null ? words.text(message(absenceOf(cell))) : words.number(cell.value, unit);
  const marked = cell.status === "marked" ? words.text(message("cell.marked", { value })) : value;
  return [numberCell(cell.n, "count", words), figureCell(marked), figureCell(words.interval(cell.interval, unit))];
}

/** The means of a family for the whole survey, with their standard deviations. */
export function meansTable(family: string, estimates: readonly EstimateResult[], words: Words): TableView {
  return makeTable(
    {
      id: `prevalence-${family}-means`,
      caption: words.text(message("table.means.caption")),
      columns: columnsOf(
        ["index", "children", "mean", "interval", "standard-deviation", "design-effect"],
        ["index"],
        words,
      ),
      notes: [],
    },
    estimates.map((estimate) => {
      const cell = estimate.overall as EstimateCell;
      return [
        textCell(words.text(nameOf(estimate))),
        ...figuresOf(cell, "z", words),
        numberCell(cell.standardDeviation, "z", words),
        numberCell(cell.designEffect, "ratio", words),
      ];
    }),
  );
}

/**
 * What each exclusion rule would have given, for all estimates together: one row an estimate, one column a rule. An estimate
 * that no rule changes is left out.
 */
export function exclusionTable(results: Results, words: Words): TableView | null {
  const compared = results.estimates.filter(({ byExclusion }) => byExclusion.some(({ excluded }) => excluded > 0));
  const rules = compared[0]?.byExclusion.map(({ rule }) => rule) ?? [];
  if (rules.length === 0) return null;
  const text = (cell: EstimateCell, excluded: number, unit: "share" | "z"): string =>
    words.text(
      message("table.exclusions.cell", {
        value: words.number(cell.value, unit),
        excluded,
      }),
    );
  return makeTable(
    {
      id: "prevalence-exclusions",
      caption: words.text(message("table.exclusions.caption")),
      columns: [
        ...columnsOf(["estimate"], ["estimate"], words),
        ...rules.map((rule) => ({
          label: words.text(message(`exclusion.${rule}`)),
          numeric: true,
        })),
      ],
      notes: [words.text(message("table.exclusions.note"))],
    },
    compared.map((estimate) => [
      textCell(words.text(nameOf(estimate))),
      ...estimate.byExclusion.map(({ cell, excluded }) =>
        figureCell(text(cell, excluded, estimate.kind === "mean" ? "z" : "share")),
      ),
    ]),
  );
}

/** An estimate in each of its subgroups, with a test of each division; null where there are none. */
export function subgroupTable(estimate: EstimateResult, words: Words): TableView | null {
  if (estimate.subgroups.length === 0) return null;
  const unit = estimate.kind === "mean" ? "z" : "share";
  const spread = estimate.kind === "mean";
  const rows = estimate.subgroups.flatMap((group) => [
    [textCell(words.text(groupHeading(group)))],
    ...group.cells.map((cell) => [
      textCell(words.text(cell.label)),
      ...figuresOf(cell, unit, words),
      spread ? numberCell(cell.standardDeviation, "z", words) : numberCell(cell.designEffect, "ratio", words),
    ]),
  ]);
  const tests = estimate.subgroups.flatMap((group) =>
    group.test === undefined
      ? []
      : [
          words.text(
            message("table.subgroups.test", {
              group: groupHeading(group),
              probability: words.number(group.test.probability, "probability"),
            }),
          ),
        ],
  );
  const cells = estimate.subgroups.flatMap((group) => group.cells);
  const notes = (["withheld", "marked", "unknown"] as const)
    .filter((status) => cells.some((cell) => cell.status === status))
    .map((status) => words.text(message(`cell.note.${status}`)));
  return makeTable(
    {
      id: `prevalence-${estimate.id}-subgroups`,
      caption: words.text(message("table.subgroups.caption", { estimate: nameOf(estimate) })),
      columns: columnsOf(
        ["group", "children", spread ? "mean" : "value", "interval", spread ? "standard-deviation" : "design-effect"],
        ["group"],
        words,
      ),
      notes: [...tests, ...notes],
    },
    rows,
  );
}
