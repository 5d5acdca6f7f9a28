import type { Difference, Pair } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import type { Message, Table, TableCell } from "../results/schema.js";
import { kindOf } from "./cells.js";
import { columnsOf } from "./columns.js";
import { type Compared, comparedBy, comparedCells, strength, verdictCell } from "./compared.js";
import type { SurveySummary } from "./summary.js";

/** More rows than this the report leaves to the comparison's files. */
const mostListed = 40;

/** The differences by estimate and question, the clearest first (largest |t|), those that cannot be told last. */
export function comparedOf(
  summaries: readonly SurveySummary[],
  pairs: readonly Pair[],
  differences: readonly Difference[],
): Map<string, Compared[]> {
  const key = ({ pair, difference }: Compared): string => `${pair.question} ${difference.estimate}`;
  const all = comparedBy(summaries, pairs, differences, key);
  for (const list of all.values()) list.sort((a, b) => strength(b) - strength(a));
  return all;
}

/** Of a list of differences, how many go which way. */
export function tally(list: readonly Compared[]): Record<"pairs" | "rise" | "fall" | "unclear" | "unknown", number> {
  const count = (verdict: string): number => list.filter(({ difference }) => difference.verdict === verdict).length;
  const unclear = count("no-clear-change");
  return { pairs: list.length, rise: count("rise"), fall: count("fall"), unclear, unknown: count("cannot-tell") };
}

function rowOf(compared: Compared): TableCell[] {
  const { difference } = compared;
  const notes = [...(difference.reason === undefined ? [] : [difference.reason]), ...difference.cautions];
  return [
    ...comparedCells(compared),
    difference.probability,
    difference.adjustedProbability,
    verdictCell(compared),
    notes.length === 0 ? null : message("compare.change.notes", { notes }),
  ];
}

/** The differences of one estimate; a long list is cut here and stands whole in a second table, which goes to a file. */
export function differenceTables(estimate: string, list: readonly Compared[]): Table[] {
  const [first] = list;
  if (first === undefined) return [];
  const share = kindOf(estimate) === "proportion";
  const label = (id: string): Message => message(`compare.change.table.${id}`);
  const { question } = first.pair;
  const whole: Table = {
    id: `${question}-${estimate}`,
    of: fromResults,
    caption: message(`compare.change.table.caption.${question}`, { estimate: message(`estimate.${estimate}`) }),
    columns: columnsOf(label, [
      ["pair", "text"],
      ["first", share ? "share" : "z"],
      ["second", share ? "share" : "z"],
      ["difference", share ? "share-difference" : "z"],
      ["low", share ? "share-difference" : "z"],
      ["high", share ? "share-difference" : "z"],
      ["probability", "probability"],
      ["adjusted", "probability"],
      ["verdict", "text"],
      ["notes", "text"],
    ]),
    rows: list.map(rowOf),
    notes: [message("compare.change.table.note")],
  };
  if (list.length <= mostListed) return [whole];
  const more = message("compare.change.table.more", { shown: mostListed, total: list.length });
  const short = { ...whole, rows: whole.rows.slice(0, mostListed), notes: [...(whole.notes ?? []), more] };
  return [
    short,
    { ...whole, id: `${whole.id}-all`, caption: message("compare.change.table.all", { table: whole.caption }) },
  ];
}

/** What each short note in a list of differences stands for, each once. */
export function notesIn(list: readonly Compared[]): Message[] {
  const notes = new Map(list.flatMap(({ difference }) => difference.cautions.map((note) => [note.id, note] as const)));
  return notes.size === 0 ? [] : [message("compare.change.caution.notes", { notes: [...notes.values()] })];
}
