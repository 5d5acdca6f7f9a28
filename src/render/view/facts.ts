import { message } from "../../results/message.js";
import type { Results } from "../../results/schema.js";
import { emDash } from "../numbers.js";
import type { Words } from "../words.js";
import { figureCell, makeTable, numberCell, type TableView, textCell } from "./table.js";

type Cells = ReturnType<typeof textCell>[];

const counted = (id: string, value: number | null, words: Words): Cells => [
  textCell(words.text(message(`fact.${id}`))),
  numberCell(value, "count", words),
];

const twoColumns = (id: string, words: Words): TableView["columns"] => [
  { label: words.text(message(`table.${id}.item`)), numeric: false },
  { label: words.text(message(`table.${id}.value`)), numeric: true },
];

/** Who is in the survey, and how the sample was drawn: two short tables that can stand side by side. */
export function childrenTables(results: Results, words: Words): TableView[] {
  const { children, design } = results;
  const yes = (value: boolean): string => words.text(message(value ? "word.yes" : "word.no"));
  const table = (id: string, rows: Cells[]): TableView =>
    makeTable(
      { id, caption: words.text(message(`table.${id}.caption`)), columns: twoColumns("children", words), notes: [] },
      rows,
    );
  return [
    table("children", [
      counted("children", children.total, words),
      counted("boys", children.boys, words),
      counted("girls", children.girls, words),
      ...(children.sexUnknown > 0 ? [counted("sex-unknown", children.sexUnknown, words)] : []),
      counted("age-unknown", children.ageUnknown, words),
      counted("age-from-months", children.ageFromMonths, words),
      counted("oedema", children.oedema, words),
    ]),
    table("sample", [
      counted("clusters", design.clusters, words),
      counted("strata", design.strata, words),
      counted("teams", design.teams, words),
      counted("days", design.days, words),
      [textCell(words.text(message("fact.weighted"))), figureCell(yes(design.weighted))],
      [textCell(words.text(message("fact.finite-population"))), figureCell(yes(design.finitePopulationCorrection))],
      counted("degrees-of-freedom", design.degreesOfFreedom, words),
    ]),
  ];
}

/** How many z-scores there are, and how many each rule sets aside. */
export function scoresTable(results: Results, words: Words): TableView | null {
  const { scores } = results.children;
  if (scores.length === 0) return null;
  const ids = [
    "index",
    "computed",
    "missing",
    "outside-fixed",
    "outside-around-mean",
    "fixed-limits",
    "around-mean-limits",
  ];
  return makeTable(
    {
      id: "scores",
      caption: words.text(message("table.scores.caption")),
      columns: ids.map((id, i) => ({
        label: words.text(message(`table.scores.${id}`)),
        numeric: i > 0,
      })),
      notes: missingNotes(results, words),
    },
    scores.map((score) => [
      textCell(words.text(message(`index.${score.index}`))),
      numberCell(score.computed, "count", words),
      numberCell(
        score.missing.reduce((sum, each) => sum + each.count, 0),
        "count",
        words,
      ),
      numberCell(score.outsideFixed, "count", words),
      numberCell(score.outsideAroundMean, "count", words),
      figureCell(limitsText(score.fixedLimits, words)),
      figureCell(score.aroundMeanLimits === null ? emDash : limitsText(score.aroundMeanLimits, words)),
    ]),
  );
}

function limitsText(limits: { readonly low: number; readonly high: number }, words: Words): string {
  return words.interval(limits, "z");
}

/** Why z-scores are missing, one sentence an index. */
function missingNotes(results: Results, words: Words): string[] {
  const sentences = results.children.scores
    .filter((score) => score.missing.some((each) => each.count > 0))
    .map((score) => {
      const reasons = score.missing
        .filter((each) => each.count > 0)
        .map((each) =>
          message("fact.missing-part", {
            reason: message(`no-score.${slug(each.reason)}`),
            count: each.count,
          }),
        );
      return words.text(
        message("fact.missing", {
          index: message(`index.${score.index}`),
          reasons,
        }),
      );
    });
  return sentences.length === 0 ? [] : [words.text(message("table.scores.why")), ...sentences];
}

/** 'measure missing' as the end of a message id. */
export function slug(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-");
}

/** The input file, what was read of it and what was left out. */
export function inputTable(results: Results, words: Words): TableView {
  const { input, tool } = results;
  const row = (id: string, text: string): Cells => [textCell(words.text(message(`fact.${id}`))), textCell(text)];
  return makeTable(
    {
      id: "input",
      caption: words.text(message("table.input.caption")),
      columns: [
        { label: words.text(message("table.input.item")), numeric: false },
        { label: words.text(message("table.input.value")), numeric: false },
      ],
      notes: [],
    },
    [
      row("file", words.text(input.file)),
      row("bytes", words.number(input.bytes, "count")),
      row("sha256", words.text(input.sha256)),
      row("encoding", words.text(input.encoding)),
      ...containerRows(input.container, words, row),
      ...(input.delimiter === "none" ? [] : [row("delimiter", delimiterName(input.delimiter, words))]),
      row("rows-read", words.number(input.rowsRead, "count")),
      row("rows-used", words.number(input.rowsUsed, "count")),
      ...input.leftOut.map(
        (out): Cells => [
          textCell(
            words.text(
              message("fact.left-out", {
                reason: message(`left-out.${slug(out.reason)}`),
              }),
            ),
          ),
          textCell(words.number(out.count, "count")),
        ],
      ),
      ...(input.settingsSha256 === null ? [] : [row("settings-sha256", words.text(input.settingsSha256))]),
      ...(input.clusterList === undefined
        ? []
        : [
            row("cluster-list", words.text(input.clusterList.file)),
            row("cluster-list-sha256", words.text(input.clusterList.sha256)),
          ]),
      row("made-on", results.madeOn === null ? emDash : words.day(results.madeOn)),
      row("tool", words.text(`${tool.name} ${tool.version}`)),
      row("format", words.text(`${results.format} ${results.version}`)),
    ],
  );
}

/** What the data came in, and which of its tables they are. */
function containerRows(
  container: Results["input"]["container"],
  words: Words,
  row: (id: string, text: string) => Cells,
): Cells[] {
  if (container === undefined) return [];
  const { kind, table, joined = [] } = container;
  const rows = [row("container", words.text(message(`container.${kind}`)))];
  if (table !== undefined) rows.push(row("table", words.text(table)));
  if (joined.length > 0) rows.push(row("joined", words.list(joined.map((name) => words.text(name)))));
  return rows;
}

function delimiterName(delimiter: string, words: Words): string {
  const names: Readonly<Record<string, string>> = {
    ",": "comma",
    ";": "semicolon",
    "\t": "tab",
    "|": "bar",
  };
  const name = names[delimiter];
  return name === undefined ? words.text(delimiter) : words.text(message(`delimiter.${name}`));
}
