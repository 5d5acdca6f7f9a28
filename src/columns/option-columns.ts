import type { TextTable } from "../read/table.js";
import { type CodingRole, codingRoles, type RoleSpec } from "../settings/roles.js";
import { type Cells, cellsOf } from "./cells.js";
import { codings, noWords, yesWords } from "./codings.js";
import { matchName } from "./column-names.js";
import { missingTexts } from "./missing.js";
import { plainWord } from "./words.js";

/**
 * A question with several answers is exported as one column of all codes chosen, separated by spaces, as one 0/1 column
 * an answer ('q/a' for answer a of question q), or as both. Where both are there the first is read and the others are
 * passed over, so that nothing is counted twice. An empty cell is 'not asked', never 'not chosen'.
 */
export interface OptionColumns {
  /** 0/1 columns whose question has a column of its own: they are never read. */
  readonly ofColumns: ReadonlySet<string>;
  /** Questions that only 0/1 columns hold, by role: the question's name and its columns by meaning. */
  readonly questions: ReadonlyMap<CodingRole, { readonly name: string; readonly options: Record<string, string[]> }>;
}

const chosen = new Set([...yesWords.map(plainWord), "1"]);
const notChosen = new Set([...noWords.map(plainWord), "0"]);

/** What stands before and behind the last separator of a name. */
function parted(name: string): { readonly question: string; readonly answer: string } | null {
  const at = Math.max(name.lastIndexOf("/"), name.lastIndexOf("."), name.lastIndexOf(":"));
  return at < 1 || at === name.length - 1 ? null : { question: name.slice(0, at), answer: name.slice(at + 1) };
}

/** True for a column of nothing but 0, 1, yes, no and empty cells. */
function isChoice(values: readonly string[]): boolean {
  return values.every((text) => text === "" || chosen.has(plainWord(text)) || notChosen.has(plainWord(text)));
}

/** What a coding says an answer's name means; null for none or for 'not known'. */
function meaningOf(role: CodingRole, answer: string): string | null {
  const word = plainWord(answer);
  const found = Object.entries(codings[role].words).find(([, words]) => words.includes(word))?.[0];
  return found === undefined || found === "" ? null : found;
}

/** Finds the 0/1 columns of questions with several answers. */
export function optionColumns(table: TextTable): OptionColumns {
  const names = new Set(table.columns.map(({ name }) => name));
  const ofColumns = new Set<string>();
  const alone = new Map<string, { readonly column: string; readonly answer: string }[]>();
  for (const { name, values } of table.columns) {
    const parts = parted(name);
    if (parts === null || !isChoice(values)) continue;
    const { question, answer } = parts;
    if (names.has(question)) ofColumns.add(name);
    else alone.set(question, [...(alone.get(question) ?? []), { column: name, answer }]);
  }
  const questions = new Map<CodingRole, { name: string; options: Record<string, string[]> }>();
  for (const [name, columns] of alone) {
    const role = matchName(name).find(({ role: found }) => (codingRoles as readonly string[]).includes(found))?.role;
    if (role === undefined || columns.length < 2) continue;
    const options: Record<string, string[]> = {};
    for (const { column, answer } of columns) {
      const meaning = meaningOf(role as CodingRole, answer);
      if (meaning !== null) options[meaning] = [...(options[meaning] ?? []), column];
    }
    const taken = questions.has(role as CodingRole);
    if (!taken && Object.keys(options).length > 0) questions.set(role as CodingRole, { name, options });
  }
  return { ofColumns, questions };
}

/** The text of one row's answers: the meanings chosen; empty where nothing was chosen or every cell is empty. */
function rowText(
  columns: readonly { readonly meaning: string; readonly cells: Cells; readonly missing: Uint8Array }[],
  row: number,
): string {
  const texts = new Set<string>();
  for (const { meaning, cells, missing } of columns) {
    const code = cells.codes[row] ?? 0;
    const text = cells.values[code] ?? "";
    const word = plainWord(text);
    if (missing[code] === 1 || notChosen.has(word)) continue;
    // What is neither chosen nor not chosen stands as it is, to be named as not understood.
    texts.add(chosen.has(word) ? meaning : text);
  }
  return [...texts].join(" ");
}

/** One column of texts made row by row. */
function madeCells(table: TextTable, name: string, textOf: (row: number) => string): Cells | null {
  const codeOf = new Map<string, number>();
  const codes = Uint32Array.from({ length: table.rowCount }, (_, row) => {
    const text = textOf(row);
    const code = codeOf.get(text) ?? codeOf.size;
    codeOf.set(text, code);
    return code;
  });
  return cellsOf({ ...table, columns: [{ name, codes, values: [...codeOf.keys()] }] }, name);
}

/** The cells of a column, and of another where that is empty. */
function halvesAsOne(table: TextTable, spec: RoleSpec, otherwise: string): Cells | null {
  const [first, second] = [cellsOf(table, spec.column), cellsOf(table, otherwise)];
  if (first === null || second === null) return null;
  const empty = missingTexts(first, spec.missing);
  return madeCells(table, spec.column, (row) => {
    const cells = empty[first.codes[row] ?? 0] === 1 ? second : first;
    return cells.values[cells.codes[row] ?? 0] ?? "";
  });
}

/** The 0/1 columns of a question as one column of the meanings chosen. */
function answersAsOne(table: TextTable, spec: RoleSpec, options: NonNullable<RoleSpec["options"]>): Cells | null {
  const columns = Object.entries(options).flatMap(([meaning, names]) =>
    names.map((name) => ({ meaning, cells: cellsOf(table, name) })),
  );
  const there = columns.flatMap(({ meaning, cells }) =>
    cells === null ? [] : [{ meaning, cells, missing: missingTexts(cells, spec.missing) }],
  );
  return there.length < columns.length ? null : madeCells(table, spec.column, (row) => rowText(there, row));
}

/** The cells of a role: its column, or several as one. Null where a column is not there. */
export function roleCells(table: TextTable, spec: RoleSpec): Cells | null {
  if (spec.options !== undefined) return answersAsOne(table, spec, spec.options);
  return spec.otherwise === undefined ? cellsOf(table, spec.column) : halvesAsOne(table, spec, spec.otherwise);
}
