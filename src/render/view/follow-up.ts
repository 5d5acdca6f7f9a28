import type { CheckId } from "../../results/check-ids.js";
import { message, type ValuesOf } from "../../results/message.js";
import { asksFollowUp, severity } from "../../results/reading.js";
import type { CheckResult, Results } from "../../results/schema.js";
import { emDash } from "../numbers.js";
import type { Words } from "../words.js";
import { figureCell, linkCell, makeTable, numberCell, readingCell, type TableView, textCell } from "./table.js";

/** What someone should look at again: a line a finding. What exactly to do stands with the finding itself. */
export interface FollowUpView {
  readonly table: TableView | null;
}

type Who = "coordinator" | "supervisor" | "data-manager" | "analyst";

/** Whose work it usually is; common practice, no source. */
export const followedUpBy: Readonly<Record<CheckId, Who>> = {
  "clusters-reached": "coordinator",
  "households-reached": "supervisor",
  "design-known": "analyst",
  "sampling-weights": "analyst",
  "missing-values": "data-manager",
  "duplicate-rows": "data-manager",
  "sex-balance": "coordinator",
  "age-groups": "coordinator",
  "younger-older-ratio": "analyst",
  "age-heaping": "supervisor",
  "weight-digits": "supervisor",
  "height-digits": "supervisor",
  "arm-digits": "supervisor",
  "measuring-position": "supervisor",
  "entry-order": "supervisor",
  "implausible-values": "data-manager",
  spread: "analyst",
  shape: "analyst",
  "clusters-differ": "coordinator",
  "teams-differ": "supervisor",
};

/** Whose work it is, by the id that stands in results.json. */
const whoFollows = (id: string): Who | undefined => (followedUpBy as Readonly<Record<string, Who | undefined>>)[id];

const columns = ["check", "action", "who", "rows", "reading"] as const;

/** The checks that found something or list entries of the file, the most serious first. */
function followed(checks: readonly CheckResult[]): CheckResult[] {
  return checks.filter(asksFollowUp).sort((a, b) => severity[b.reading] - severity[a.reading]);
}

export function followUpView(results: Results, words: Words): FollowUpView {
  const checks = followed(results.checks);
  if (checks.length === 0) return { table: null };
  const text = <Id extends string>(id: Id, ...values: ValuesOf<Id>): string => words.text(message(id, ...values));
  const notes = ["who", ...(checks.some(({ rowsToCheck }) => rowsToCheck > 0) ? ["rows"] : [])];
  const table = makeTable(
    {
      id: "follow-up-list",
      caption: text("table.follow-up.caption"),
      columns: columns.map((id) => ({
        label: text(id === "reading" ? "table.groups.reading" : `table.follow-up.${id}`),
        numeric: id === "rows",
      })),
      notes: notes.map((id) => text(`table.follow-up.note.${id}`)),
    },
    checks.map(({ id, reading, rowsToCheck }) => [
      linkCell(text(`checks.${id}.title`), `#${id}`),
      textCell(text(`follow-up.${id}`)),
      { ...textCell(text(`follow-up.who.${whoFollows(id) ?? "coordinator"}`)), short: true },
      rowsToCheck > 0 ? numberCell(rowsToCheck, "count", words) : figureCell(emDash),
      readingCell(reading, words),
    ]),
  );
  return { table };
}
