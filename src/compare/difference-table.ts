import type { Difference, Pair } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message, Table, TableCell } from "../results/schema.js";
import { kindOf } from "./cells.js";
import { pairName } from "./pair-name.js";
import type { SurveySummary } from "./summary.js";

/** A difference with its pair and its surveys. */
export interface Compared {
  readonly difference: Difference;
  readonly pair: Pair;
  readonly first: SurveySummary;
  readonly second: SurveySummary;
}

/** More rows than this the report leaves to the comparison's files. */
const mostListed = 40;

/** The differences by estimate and question, the clearest first (largest |t|), those that cannot be told last. */
export function comparedOf(
  summaries: readonly SurveySummary[],
  pairs: readonly Pair[],
  differences: readonly Difference[],
): Map<string, Compared[]> {
  const survey = new Map(summaries.map((one) => [one.key, one]));
  const pairOf = new Map(pairs.map((pair) => [pair.id, pair]));
  const all = new Map<string, Compared[]>();
  for (const difference of differences) {
    const pair = pairOf.get(difference.pair);
    const first = survey.get(pair?.first ?? "");
    const second = survey.get(pair?.second ?? "");
    if (pair === undefined || first === undefined || second === undefined) continue;
    const key = `${pair.question} ${difference.estimate}`;
    const known = all.get(key);
    if (known === undefined) all.set(key, [{ difference, pair, first, second }]);
    else known.push({ difference, pair, first, second });
  }
  for (const list of all.values()) list.sort((a, b) => strength(b) - strength(a));
  return all;
}

/** |t|, so that differences of unlike precision can be put in order; -1 where it cannot be told. */
export function strength({ difference: { difference, standardError } }: Compared): number {
  return difference === null || standardError === null ? -1 : Math.abs(difference / standardError);
}

export const isClear = ({ difference: { verdict } }: Compared): boolean => verdict === "rise" || verdict === "fall";

/** Of a list of differences, how many go which way. */
export function tally(list: readonly Compared[]): Record<"pairs" | "rise" | "fall" | "unclear" | "unknown", number> {
  const count = (verdict: string): number => list.filter(({ difference }) => difference.verdict === verdict).length;
  const unclear = count("no-clear-change");
  return { pairs: list.length, rise: count("rise"), fall: count("fall"), unclear, unknown: count("cannot-tell") };
}

function rowOf({ difference, pair, first, second }: Compared): TableCell[] {
  const notes = [...(difference.reason === undefined ? [] : [difference.reason]), ...difference.cautions];
  return [
    pairName(pair, first, second),
    difference.first,
    difference.second,
    difference.difference,
    difference.interval?.low ?? null,
    difference.interval?.high ?? null,
    difference.probability,
    difference.adjustedProbability,
    message(`compare.verdict.${pair.question}.${difference.verdict}`),
    notes.length === 0 ? null : message("compare.change.notes", { notes }),
  ];
}

/** The differences of one estimate; a long list is cut here and stands whole in a second table, which goes to a file. */
export function differenceTables(estimate: string, list: readonly Compared[]): Table[] {
  const [first] = list;
  if (first === undefined) return [];
  const share = kindOf(estimate) === "proportion";
  const label = (id: string): Message => message(`compare.change.table.${id}`);
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({ id, label: label(id), unit });
  const { question } = first.pair;
  const whole: Table = {
    id: `${question}-${estimate}`,
    caption: message(`compare.change.table.caption.${question}`, { estimate: message(`estimate.${estimate}`) }),
    columns: [
      column("pair", "text"),
      column("first", share ? "share" : "z"),
      column("second", share ? "share" : "z"),
      column("difference", share ? "share-difference" : "z"),
      column("low", share ? "share-difference" : "z"),
      column("high", share ? "share-difference" : "z"),
      column("probability", "probability"),
      column("adjusted", "probability"),
      column("verdict", "text"),
      column("notes", "text"),
    ],
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
