import type { Block } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import { isConcern } from "../results/reading.js";
import type { Message, Reading, Table, TableCell } from "../results/schema.js";
import { fewOf } from "./cells.js";
import { columnsOf } from "./columns.js";
import { roundsOf } from "./rounds.js";
import type { SurveySummary } from "./summary.js";

/** What became of a check's finding from one round of a place to the next. */
export interface FindingByRound {
  readonly place: string;
  readonly check: string;
  readonly first: SurveySummary;
  readonly second: SurveySummary;
  readonly before: Reading;
  readonly after: Reading;
  /** 'absent' in neither round; 'cannot-tell' where one of the two is not known. */
  readonly fate: "new" | "gone" | "persisting" | "absent" | "cannot-tell";
}

const order = ["persisting", "new", "gone", "cannot-tell"] as const;

/** Rows printed; of more, all stand in a second table, which goes to a file. */
const mostListed = 40;

function fateOf(before: Reading, after: Reading): FindingByRound["fate"] {
  if (before === "unknown" || after === "unknown") return "cannot-tell";
  if (isConcern(before)) return isConcern(after) ? "persisting" : "gone";
  return isConcern(after) ? "new" : "absent";
}

/** Every check in every two consecutive rounds of a place. A check that one of them does not have cannot be told. */
export function findingsByRound(summaries: readonly SurveySummary[]): FindingByRound[] {
  const found: FindingByRound[] = [];
  for (const [place, rounds] of roundsOf(summaries)) {
    for (let i = 1; i < rounds.length; i++) {
      const first = rounds[i - 1] as SurveySummary;
      const second = rounds[i] as SurveySummary;
      for (const check of new Set([...first.checks.keys(), ...second.checks.keys()])) {
        const before = first.checks.get(check)?.reading ?? "unknown";
        const after = second.checks.get(check)?.reading ?? "unknown";
        found.push({ place, check, first, second, before, after, fate: fateOf(before, after) });
      }
    }
  }
  return found;
}

const named = ({ check, place }: FindingByRound): Message =>
  message("compare.rounds.named", { check: message(`checks.${check}.title`), place });

function meaningOf(findings: readonly FindingByRound[]): Message[] {
  return order.flatMap((fate) => {
    const own = findings.filter((one) => one.fate === fate);
    if (own.length === 0 || fate === "cannot-tell") return [];
    return [message(`compare.rounds.meaning.${fate}`, { count: own.length, ...fewOf(own.map(named), 5) })];
  });
}

function tablesOf(findings: readonly FindingByRound[]): Table[] {
  const listed = order.flatMap((fate) => findings.filter((one) => one.fate === fate).map((one) => ({ ...one, fate })));
  const label = (id: string): Message => message(`compare.rounds.table.${id}`);
  const whole: Table = {
    id: "quality-by-round",
    of: fromResults,
    caption: label("caption"),
    columns: columnsOf(label, [
      ["check", "text"],
      ["place", "text"],
      ["from", "text"],
      ["before", "reading"],
      ["to", "text"],
      ["after", "reading"],
      ["fate", "text"],
    ]),
    rows: listed.map(({ check, place, first, second, before, after, fate }): TableCell[] => [
      message(`checks.${check}.title`),
      place,
      first.round ?? first.title,
      before,
      second.round ?? second.title,
      after,
      message(`compare.rounds.fate.${fate}`),
    ]),
    notes: [label("note")],
  };
  if (listed.length <= mostListed) return [whole];
  const more = message("compare.rounds.table.more", { more: listed.length - mostListed });
  const caption = message("compare.change.table.all", { table: whole.caption });
  return [
    { ...whole, rows: whole.rows.slice(0, mostListed), notes: [label("note"), more] },
    { ...whole, id: `${whole.id}-all`, caption },
  ];
}

/** The block on findings by round; null where no place was seen twice. */
export function roundsBlock(findings: readonly FindingByRound[]): Block | null {
  if (findings.length === 0) return null;
  const count = (fate: FindingByRound["fate"]): number => findings.filter((one) => one.fate === fate).length;
  const counts = {
    new: count("new"),
    gone: count("gone"),
    persisting: count("persisting"),
    unknown: count("cannot-tell"),
    places: new Set(findings.map(({ place }) => place)).size,
  };
  const finding = message("compare.rounds.finding", counts);
  return {
    id: "quality-by-round",
    title: message("compare.rounds.title"),
    finding,
    meaning: meaningOf(findings),
    cautions: [message("compare.rounds.caution")],
    charts: [],
    tables: tablesOf(findings),
    method: [message("compare.rounds.method")],
    sources: [],
  };
}
