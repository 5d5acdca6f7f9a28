import { fromResults } from "../results/group.js";
import { groupName } from "../results/group-name.js";
import { message } from "../results/message.js";
import type {
  CheckResult,
  EstimateCell,
  EstimateResult,
  GroupReading,
  Message,
  Quantity,
  Results,
  Table,
  TableCell,
} from "../results/schema.js";

type Column = Table["columns"][number];
const column = (id: string, unit: Column["unit"]): Column => ({
  id,
  label: message(`file.${id}`),
  unit,
});

function quantityRow(check: CheckResult, group: GroupReading | null, quantity: Quantity): TableCell[] {
  const reading = group?.reading ?? check.reading;
  return [
    message(`checks.${check.id}.title`),
    message(`reading.${reading}`),
    group === null ? "" : message(`checks.who.by.${group.by}`),
    group === null ? "" : groupName(group),
    message(`quantity.${quantity.id}`),
    message(`unit.${quantity.unit}`),
    quantity.value,
    quantity.interval?.low ?? null,
    quantity.interval?.high ?? null,
    quantity.chance?.expected ?? null,
    quantity.chance?.low ?? null,
    quantity.chance?.high ?? null,
    quantity.probability ?? null,
    quantity.n ?? group?.n ?? null,
  ];
}

/** Every number of every check, overall and by group, one a row. */
export function checksTable(results: Results): Table {
  const rows = results.checks.flatMap((check) => [
    ...check.quantities.map((quantity) => quantityRow(check, null, quantity)),
    ...check.groups.flatMap((group) => group.quantities.map((quantity) => quantityRow(check, group, quantity))),
  ]);
  const texts = ["check", "reading", "by", "group", "quantity", "unit"].map((id) => column(id, "text"));
  const numbers = ["value", "low", "high", "expected", "chance-low", "chance-high", "probability", "children"];
  return {
    id: "checks",
    of: fromResults,
    caption: message("file.checks"),
    columns: [...texts, ...numbers.map((id) => column(id, "statistic"))],
    rows,
  };
}

function cellRow(estimate: EstimateResult, rule: string, by: Message | string, cell: EstimateCell): TableCell[] {
  return [
    message(`estimate.${estimate.id}`),
    message(`exclusion.${rule}`),
    by,
    cell.label,
    message(`cell.status.${cell.status}`),
    cell.n,
    cell.clusters,
    cell.value,
    cell.standardError,
    cell.interval?.low ?? null,
    cell.interval?.high ?? null,
    cell.degreesOfFreedom,
    cell.designEffect,
    cell.standardDeviation ?? null,
    cell.classification === undefined ? null : message(`class.${cell.classification.at}`),
    cell.classification === undefined ? null : message(`scheme.${cell.classification.scheme}`),
  ];
}

/** Every prevalence and mean: overall under each exclusion rule, then by group under the default rule, one a row. */
export function prevalenceTable(results: Results): Table {
  const rows = results.estimates.flatMap((estimate) => [
    ...estimate.byExclusion.map(({ rule, cell }) => cellRow(estimate, rule, "", { ...cell, label: allChildren })),
    ...estimate.subgroups.flatMap(({ by, columnName, cells }) =>
      cells.map((cell) =>
        cellRow(estimate, results.settings.exclusions.default, columnName ?? message(`checks.who.by.${by}`), cell),
      ),
    ),
  ]);
  const texts = ["estimate", "rule", "by", "group", "status"].map((id) => column(id, "text"));
  const numbers = ["children", "clusters", "value", "standard-error", "low", "high", "df", "design-effect", "spread"];
  return {
    id: "prevalence",
    of: fromResults,
    caption: message("file.prevalence"),
    columns: [
      ...texts,
      ...numbers.map((id) => column(id, "statistic")),
      column("class", "text"),
      column("scheme", "text"),
    ],
    rows,
  };
}

const allChildren: Message = message("estimates.all-children");
