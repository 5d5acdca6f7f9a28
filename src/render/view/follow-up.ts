import { message } from "../../results/message.js";
import type { Reading, Results } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import type { Words } from "../words.js";
import { makeTable, numberCell, readingCell, type TableView, textCell } from "./table.js";

/** What someone should look at again, and what to do about each finding. */
export interface FollowUpView {
  readonly table: TableView | null;
  readonly actions: readonly {
    readonly href: string;
    readonly title: string;
    readonly sign: OwnMarkup;
    readonly word: string;
    readonly steps: readonly string[];
  }[];
}

const order: readonly Reading[] = ["doubt", "explain", "unknown", "expected"];

export function followUpView(results: Results, words: Words): FollowUpView {
  const withRows = results.checks.filter((check) => check.rowsToCheck > 0);
  const title = (id: string): string => words.text(message(`checks.${id}.title`));
  const table =
    withRows.length === 0
      ? null
      : makeTable(
          {
            id: "rows-to-check",
            caption: words.text(message("table.follow-up.caption")),
            columns: [
              {
                label: words.text(message("table.follow-up.check")),
                numeric: false,
              },
              {
                label: words.text(message("table.follow-up.rows")),
                numeric: true,
              },
              {
                label: words.text(message("table.groups.reading")),
                numeric: false,
              },
            ],
            notes: [words.text(message("table.follow-up.note"))],
          },
          withRows.map((check) => [
            textCell(title(check.id)),
            numberCell(check.rowsToCheck, "count", words),
            readingCell(check.reading, words),
          ]),
        );
  const actions = results.checks
    .filter((check) => check.reading !== "expected" && check.actions.length > 0)
    .sort((a, b) => order.indexOf(a.reading) - order.indexOf(b.reading))
    .map((check) => ({
      href: `#${check.id}`,
      title: title(check.id),
      sign: readingSign(check.reading),
      word: words.text(message(`reading.${check.reading}`)),
      steps: check.actions.map((action) => words.text(action)),
    }));
  return { table, actions };
}
