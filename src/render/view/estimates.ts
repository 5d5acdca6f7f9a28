import { message } from "../../results/message.js";
import type { Chart, EstimateCell, EstimateResult, Message, Results } from "../../results/schema.js";
import { emDash } from "../numbers.js";
import type { Words } from "../words.js";
import { type BehindView, behindView } from "./check.js";
import { type FigureView, figureView } from "./figure.js";
import type { CitationList, Citations } from "./sources.js";
import { figureCell, makeTable, numberCell, type TableView, textCell } from "./table.js";

/** One family of estimates: heading, tables, a picture of its subgroups. */
export interface FamilyView {
  readonly id: string;
  readonly title: string;
  readonly finding: string;
  readonly tables: readonly TableView[];
  readonly figures: readonly FigureView[];
  readonly behind: BehindView | null;
  /** Why an estimate is not there. */
  readonly reasons: readonly string[];
  readonly citations: CitationList | null;
}

type Cellish = ReturnType<typeof textCell>;
const nameOf = (estimate: EstimateResult): Message => message(`estimate.${estimate.id}`);

/** The estimates by family, in the order in which they stand in the results. */
export async function familyViews(results: Results, citations: Citations, words: Words): Promise<FamilyView[]> {
  const families = [...new Set(results.estimates.map((estimate) => estimate.family))];
  const views: FamilyView[] = [];
  for (const family of families) {
    const estimates = results.estimates.filter((estimate) => estimate.family === family);
    views.push(await familyView(family, estimates, citations, words));
  }
  return views;
}

async function familyView(
  family: string,
  estimates: readonly EstimateResult[],
  citations: Citations,
  words: Words,
): Promise<FamilyView> {
  const present = estimates.filter((estimate) => estimate.overall !== null);
  const means = present.filter((estimate) => estimate.kind === "mean");
  const shares = present.filter((estimate) => estimate.kind === "proportion");
  const tables = [
    shares.length > 0 ? overallTable(family, shares, words) : null,
    means.length > 0 ? meansTable(family, means, words) : null,
  ].filter((table) => table !== null);
  // The figure carries the same numbers; the tables serve those who cannot see it, and the file serves print.
  const byGroup = [...shares.slice(0, 1), ...means]
    .map((estimate) => subgroupTable(estimate, words))
    .filter((table) => table !== null);
  const figures: FigureView[] = [];
  const first = shares[0];
  const chart = first === undefined ? null : subgroupChart(first);
  if (chart !== null) figures.push(await figureView(chart, `prevalence-${family}-figure`, words));
  return {
    id: `prevalence-${family}`,
    title: words.text(message(`family.${family}`)),
    finding: findingOf(estimates, words),
    tables,
    figures,
    behind: behindView([], byGroup, words),
    reasons: reasonsOf(estimates, words),
    citations: citations.of([...new Set(estimates.flatMap((estimate) => estimate.sources))]),
  };
}

/** Why an estimate is not there, or has no interval; each reason once. */
function reasonsOf(estimates: readonly EstimateResult[], words: Words): string[] {
  const missing = estimates.flatMap(({ reason }) => (reason === undefined ? [] : [words.text(reason)]));
  const withoutInterval = estimates.flatMap(({ overall }) =>
    overall?.reason === undefined ? [] : [words.text(message("prevalence.no-interval", { reason: overall.reason }))],
  );
  return [...new Set([...missing, ...withoutInterval])];
}

/** The family's first estimate in a sentence, or that none could be made. */
function findingOf(estimates: readonly EstimateResult[], words: Words): string {
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

const columnsOf = (ids: readonly string[], textual: readonly string[], words: Words): TableView["columns"] =>
  ids.map((id) => ({
    label: words.text(message(`table.estimates.${id}`)),
    numeric: !textual.includes(id),
  }));

function overallTable(family: string, estimates: readonly EstimateResult[], words: Words): TableView {
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

/** Children, value and interval; a withheld or unknown value says so in its place. */
function figuresOf(cell: EstimateCell, unit: "share" | "z", words: Words): Cellish[] {
  const value =
    cell.value === null ? words.text(message(`cell.status.${cell.status}`)) : words.number(cell.value, unit);
  const marked = cell.status === "marked" ? words.text(message("cell.marked", { value })) : value;
  return [numberCell(cell.n, "count", words), figureCell(marked), figureCell(words.interval(cell.interval, unit))];
}

function meansTable(family: string, estimates: readonly EstimateResult[], words: Words): TableView {
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

const headingOf = (group: EstimateResult["subgroups"][number]): Message =>
  group.columnName === undefined
    ? message(`subgroup.${group.by}`)
    : message("subgroup.column", { name: group.columnName });

function subgroupTable(estimate: EstimateResult, words: Words): TableView | null {
  if (estimate.subgroups.length === 0) return null;
  const unit = estimate.kind === "mean" ? "z" : "share";
  const spread = estimate.kind === "mean";
  const rows = estimate.subgroups.flatMap((group) => [
    [textCell(words.text(headingOf(group)))],
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
              group: headingOf(group),
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

/** The subgroups of a prevalence on one axis, with the survey's own value marked. */
function subgroupChart(estimate: EstimateResult): Chart | null {
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
        group: headingOf(group),
        label: cell.label,
        value: cell.value,
        low: cell.interval?.low ?? null,
        high: cell.interval?.high ?? null,
        n: cell.n,
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
