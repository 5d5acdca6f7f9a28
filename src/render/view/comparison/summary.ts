import type { Comparison, Difference, Pair } from "../../../results/comparison.js";
import { fromResults } from "../../../results/group.js";
import { message } from "../../../results/message.js";
import type { Table } from "../../../results/schema.js";
import { isClear } from "../../../results/verdict.js";
import type { Words } from "../../words.js";
import { type Cover, fitting } from "../first-page.js";
import type { Heading } from "../heading.js";
import { type TableView, tableView } from "../table.js";
import { blockAnchor } from "./block.js";

/** The first page: all surveys in a sentence, what differs clearly, what was found, what to do next. */
export interface ComparisonSummaryView extends Heading {
  readonly sentence: string;
  readonly paragraphs: readonly string[];
  readonly differences: TableView | null;
  readonly findings: readonly { readonly href: string; readonly text: string }[];
  /** How many further findings the first page has no room for. */
  readonly more: string | null;
  readonly next: readonly string[];
  readonly cautions: readonly string[];
}

/** Lines of the table on the first page, those on rounds before those on places. */
const mostDifferences = 6;
const mostByQuestion: Readonly<Record<Pair["question"], number>> = { rounds: 4, places: 6 };
/** The first page has room for so many cautions; each stands with its finding as well. */
const mostCautions = 6;

export function comparisonSummaryView(
  heading: Heading,
  cover: Cover,
  comparison: Comparison,
  words: Words,
): ComparisonSummaryView {
  const { story } = comparison;
  const table = headlineTable(comparison);
  const differences = table === null ? null : tableView(table, "summary-differences", words);
  const cautions = story.cautions.slice(0, mostCautions).map((caution) => words.text(caution));
  const sentence = words.text(story.sentence);
  const paragraphs = story.paragraphs.map((paragraph) => words.text(paragraph));
  const steps = story.next.map((step) => words.text(step));
  const findings = story.findings.map((finding) => ({
    href: `#${blockAnchor(finding.block)}`,
    text: words.text(finding.message),
  }));
  const shown = fitting({
    title: comparison.comparison.title,
    lead: sentence,
    paragraphs,
    figure: null,
    rows: differences === null ? [] : linesOf(differences),
    findings: findings.map((finding) => finding.text),
    steps,
    cautions,
    cover,
  });
  const more = findings.length - shown.findings;
  return {
    ...heading,
    sentence,
    paragraphs,
    differences: differences === null ? null : { ...differences, rows: differences.rows.slice(0, shown.rows) },
    findings: findings.slice(0, shown.findings),
    more: more > 0 ? words.text(message("summary.more", { count: more })) : null,
    next: steps.slice(0, shown.steps),
    cautions,
  };
}

/** Letters that a printed line of each column of the table holds, about; the others stay on one line. */
const lettersOfColumn = [25, 38];

/** Letters of a row that fits the page's width; in a longer one the columns are narrower. */
const lettersOfRow = 90;

/** Lines that each row of the table takes in print, about. */
function linesOf(table: TableView): number[] {
  return table.rows.map(({ head, cells }) => {
    const lines = [head, ...cells].map((cell, i) => Math.ceil(cell.text.length / (lettersOfColumn[i] ?? 60)));
    const whole = [head, ...cells].reduce((sum, cell) => sum + cell.text.length, 0);
    return Math.max(1, ...lines, Math.ceil(whole / lettersOfRow));
  });
}

type Clear = Difference & { readonly first: number; readonly second: number };

const isTold = (difference: Difference): difference is Clear =>
  isClear(difference) && difference.first !== null && difference.second !== null;

const strength = ({ difference, standardError }: Difference): number =>
  Math.abs((difference ?? 0) / (standardError ?? Number.POSITIVE_INFINITY));

interface Headline {
  readonly pair: Pair;
  readonly difference: Clear;
}

/**
 * The clearest differences, one for each pair of surveys: that of the estimate told first, for a mean is almost always
 * clearer than the share it stands beside.
 */
export function headlineDifferences(comparison: Comparison): Headline[] {
  const clear = comparison.differences.filter(isTold);
  const order = [...new Set(comparison.differences.map((difference) => difference.estimate))];
  const first = new Map<string, Clear>();
  for (const difference of clear) {
    const known = first.get(difference.pair);
    if (known === undefined || order.indexOf(difference.estimate) < order.indexOf(known.estimate))
      first.set(difference.pair, difference);
  }
  const ranked = comparison.pairs
    .flatMap((pair): Headline[] => {
      const difference = first.get(pair.id);
      return difference === undefined ? [] : [{ pair, difference }];
    })
    .sort((a, b) => strength(b.difference) - strength(a.difference));
  const most = (question: Pair["question"]): Headline[] =>
    ranked.filter(({ pair }) => pair.question === question).slice(0, mostByQuestion[question]);
  return [...most("rounds"), ...most("places")].slice(0, mostDifferences);
}

/** The clearest differences as a table; null where none is clear. */
function headlineTable(comparison: Comparison): Table | null {
  const picked = headlineDifferences(comparison);
  if (picked.length === 0) return null;
  const surveys = new Map(comparison.surveys.map((survey) => [survey.key, survey]));
  const column = (id: string, unit: Table["columns"][number]["unit"]): Table["columns"][number] => ({
    id,
    label: message(`page.compare.difference.${id}`),
    unit,
  });
  const anyPaired = picked.some(({ difference }) => difference.paired !== undefined);
  return {
    id: "headline-differences",
    of: fromResults,
    caption: message("page.compare.difference.caption"),
    columns: [
      column("surveys", "text"),
      column("estimate", "text"),
      column("change", "text"),
      column("interval", "text"),
      ...(anyPaired ? [column("repaired", "text")] : []),
    ],
    rows: picked.map(({ pair, difference }) => {
      const first = surveys.get(pair.first);
      const second = surveys.get(pair.second);
      const mean = difference.estimate.startsWith("mean-") ? "mean" : "share";
      return [
        pair.question === "rounds"
          ? message("compare.pair.rounds", {
              place: second?.place ?? "",
              first: first?.round ?? first?.title ?? "",
              second: second?.round ?? second?.title ?? "",
            })
          : message("compare.pair.places", { first: first?.place ?? "", second: second?.place ?? "" }),
        message(`estimate.${difference.estimate}`),
        message(`page.compare.difference.${pair.question}.${mean}`, {
          first: difference.first,
          second: difference.second,
        }),
        difference.interval === null
          ? null
          : message(`page.compare.difference.interval.${mean}`, {
              value: difference.difference ?? difference.second - difference.first,
              low: difference.interval.low,
              high: difference.interval.high,
            }),
        ...(anyPaired
          ? [
              difference.paired === undefined
                ? null
                : difference.paired.repaired == null
                  ? message("page.compare.difference.nothing")
                  : message("page.compare.difference.repaired-value", {
                      value: difference.paired.repaired.difference,
                      low: difference.paired.repaired.interval.low,
                      high: difference.paired.repaired.interval.high,
                    }),
            ]
          : []),
      ];
    }),
  };
}
