import type { Comparison } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import type { Message, Table, TableCell } from "../results/schema.js";

type Column = Table["columns"][number];

const columns = (table: string, units: Readonly<Record<string, Column["unit"]>>): Column[] =>
  Object.entries(units).map(([id, unit]) => ({ id, label: message(`page.compare.${table}.${id}`), unit }));

/** The files that could not be used, each with its reason. */
export function refusedTable(comparison: Comparison): Table {
  return {
    id: "refused",
    of: fromResults,
    caption: message("page.compare.refused.caption"),
    columns: columns("refused", { file: "text", reason: "text" }),
    rows: comparison.refused.map(({ file, reason }) => [file, reason]),
  };
}

/** The files compared, each with its fingerprint, cut to so many signs where it is printed. */
export function comparedFiles(comparison: Comparison, signs: number): Table {
  return {
    id: "surveys",
    of: fromResults,
    caption: message("page.compare.survey.caption"),
    columns: columns("survey", {
      place: "text",
      round: "text",
      file: "text",
      sha256: "text",
      tool: "text",
      children: "count",
      clusters: "count",
    }),
    rows: comparison.surveys.map((survey): TableCell[] => [
      survey.place,
      survey.round,
      survey.file,
      survey.sha256.slice(0, signs),
      survey.toolVersion,
      survey.children,
      survey.clusters,
    ]),
    notes: signs < 64 ? [message("page.compare.survey.note", { signs })] : [],
  };
}

/** Everything known of each survey, for the file. */
function surveysTable(comparison: Comparison): Table {
  const printed = comparedFiles(comparison, 64);
  const more = columns("survey", {
    key: "text",
    title: "text",
    group: "text",
    "first-day": "text",
    "last-day": "text",
    population: "count",
    format: "text",
  });
  return {
    ...printed,
    columns: [...printed.columns, ...more],
    rows: printed.rows.map((row, i) => {
      const survey = comparison.surveys[i];
      if (survey === undefined) return row;
      const { key, title, group, firstDay, lastDay, populationSize, formatVersion } = survey;
      return [...row, key, title, group, firstDay, lastDay, populationSize, String(formatVersion)];
    }),
  };
}

function differencesTable(comparison: Comparison): Table {
  const question = new Map(comparison.pairs.map((pair) => [pair.id, pair.question]));
  return {
    id: "differences",
    of: fromResults,
    caption: message("page.compare.file.differences"),
    columns: columns("file", {
      pair: "text",
      estimate: "text",
      rule: "text",
      first: "statistic",
      second: "statistic",
      difference: "statistic",
      "standard-error": "statistic",
      df: "statistic",
      low: "statistic",
      high: "statistic",
      probability: "statistic",
      adjusted: "statistic",
      verdict: "text",
      stands: "count",
      total: "count",
    }),
    rows: comparison.differences.map((each): TableCell[] => [
      each.pair,
      message(`estimate.${each.estimate}`),
      message(`exclusion.${each.rule}`),
      each.first,
      each.second,
      each.difference,
      each.standardError,
      each.degreesOfFreedom,
      each.interval?.low ?? null,
      each.interval?.high ?? null,
      each.probability,
      each.adjustedProbability,
      message(`compare.verdict.${question.get(each.pair) ?? "rounds"}.${each.verdict}`),
      each.paired?.stands ?? null,
      each.paired?.total ?? null,
    ]),
  };
}

/** How many stored scenarios of each difference were counted, by pair and estimate. */
function countedScenarios({ pairedScenarios }: Comparison): ReadonlyMap<string, number> {
  const counted = new Map<string, number>();
  for (const { pair, estimate, kind, verdict } of pairedScenarios) {
    if (kind === "sensitivity" || verdict === "cannot-tell") continue;
    const key = `${pair} ${estimate}`;
    counted.set(key, (counted.get(key) ?? 0) + 1);
  }
  return counted;
}

function scenariosTable(comparison: Comparison): Table {
  const counted = countedScenarios(comparison);
  const total = new Map<string, number>(
    comparison.differences.map((one) => [`${one.pair} ${one.estimate}`, one.paired?.total ?? 0]),
  );
  const listed = (key: string): Message =>
    message(`page.compare.file.listed-${(counted.get(key) ?? 0) < (total.get(key) ?? 0) ? "movers" : "all"}`);
  const question = new Map(comparison.pairs.map((pair) => [pair.id, pair.question]));
  return {
    id: "paired-scenarios",
    of: fromResults,
    caption: message("page.compare.file.scenarios"),
    columns: columns("file", {
      pair: "text",
      estimate: "text",
      scenario: "text",
      kind: "text",
      difference: "statistic",
      low: "statistic",
      high: "statistic",
      verdict: "text",
      listed: "text",
    }),
    rows: comparison.pairedScenarios.map((each): TableCell[] => [
      each.pair,
      message(`estimate.${each.estimate}`),
      each.label,
      message(`scenario-kind.${each.kind}`),
      each.difference,
      each.interval?.low ?? null,
      each.interval?.high ?? null,
      message(`compare.verdict.${question.get(each.pair) ?? "rounds"}.${each.verdict}`),
      listed(`${each.pair} ${each.estimate}`),
    ]),
  };
}

/** Every quality figure of every survey that a picture shows, one a row. */
function qualityTable(comparison: Comparison): Table {
  const blocks = comparison.sections.flatMap((section) => section.blocks);
  const rows = blocks.flatMap((block) =>
    block.charts.flatMap((chart) =>
      chart.kind !== "against-chance"
        ? []
        : chart.panels.flatMap((panel) =>
            panel.rows.map((row): TableCell[] => [
              block.title,
              panel.label,
              row.label,
              message(`reading.${row.reading}`),
              row.n,
              row.value,
              row.low,
              row.high,
              row.expected,
              row.chanceLow,
              row.chanceHigh,
            ]),
          ),
    ),
  );
  return {
    id: "quality",
    of: fromResults,
    caption: message("page.compare.file.quality"),
    columns: columns("file", {
      check: "text",
      quantity: "text",
      survey: "text",
      reading: "text",
      children: "count",
      value: "statistic",
      low: "statistic",
      high: "statistic",
      expected: "statistic",
      "chance-low": "statistic",
      "chance-high": "statistic",
    }),
    rows,
  };
}

/** Every table of the comparison under an id of its own: the whole ones first, then those of the findings. */
export function comparisonTables(comparison: Comparison): Table[] {
  const whole = [
    surveysTable(comparison),
    differencesTable(comparison),
    scenariosTable(comparison),
    qualityTable(comparison),
    refusedTable(comparison),
  ].filter((table) => table.rows.length > 0);
  const tables = comparison.sections.flatMap((section) => section.blocks.flatMap((block) => block.tables));
  return [...whole, ...tables];
}
