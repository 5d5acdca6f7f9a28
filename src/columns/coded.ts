import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { CodingRole, RoleSpec } from "../settings/roles.js";
import { type Cells, cellProblem } from "./cells.js";
import { type Coding, codings, sexNumbers } from "./codings.js";
import { missingTexts } from "./missing.js";
import { asciiDigits, parseNumber } from "./numbers.js";
import { plainWord } from "./words.js";

/** A column of coded answers, understood. */
export interface ReadCodes {
  readonly cells: Cells;
  /** Code of each distinct text; -1 where missing. */
  readonly byText: Int32Array;
  /** For each distinct text, 1 where it stands for a missing value. */
  readonly missing: Uint8Array;
  /** The texts of the file for each meaning, as found or stated. */
  readonly meanings: Readonly<Record<string, readonly string[]>>;
  /** True when sex was read by the numbers of ISO/IEC 5218. */
  readonly byIsoSexNumbers: boolean;
  readonly problems: readonly InputProblem[];
}

/** Distinct values listed in a question to the user. */
const valuesListed = 8;

/** Texts such as 9, 99, 8 or -9 that no coding explains: they stand for 'not recorded' more likely than for a slip. */
const codeLike = /^-?(?:9{1,4}|8{1,4})(?:[.,]0+)?$/;

/** A cell's text as the codings list it: '+' stays, numbers lose a point and zeros behind it. */
function codeText(text: string): string {
  if (/^\++$/.test(text)) return text;
  const number = parseNumber(text);
  return Number.isNaN(number) ? plainWord(text) : String(number);
}

function wordMap(coding: Coding): Map<string, string> {
  return new Map(
    Object.entries(coding.words).flatMap(([meaning, words]) => words.map((word) => [word, meaning] as const)),
  );
}

/** Meaning of every distinct text by the codes that the settings state; words for 'not known' mean missing all the same. */
function statedMeanings(stated: NonNullable<RoleSpec["codes"]>, coding: Coding): Map<string, string> {
  const notKnown = [...wordMap(coding)].filter(([, meaning]) => meaning === "");
  const codes = Object.entries(stated).flatMap(([meaning, texts]) =>
    texts.map((text) => [codeText(text), meaning] as const),
  );
  return new Map([...notKnown, ...codes]);
}

/** A label's text without the number that stands before it: '1 - Male', '2. Feminin'. */
const numbered = /^\d{1,3}\s*[-.:)=]\s*(?=\D)(.+)$/u;

/** Of several answers to one question, the one that settles it: an age is documented when any document was seen. */
const prevailing: Partial<Record<CodingRole, string>> = { "age-known-how": "documented" };

/**
 * The meaning of a cell's text: of the whole, of the label behind a number, or of its parts where several answers or the
 * same one in several languages stand side by side; undefined where a part is not understood or the parts disagree.
 */
function meaningOf(role: CodingRole, meanings: ReadonlyMap<string, string>, text: string): string | undefined {
  const whole = meanings.get(codeText(text)) ?? meanings.get(codeText(numbered.exec(text)?.[1]?.trim() ?? ""));
  if (whole !== undefined) return whole;
  const words = text.split(/\s*[/|;,]\s*/).filter((part) => part !== "");
  const parts = words.length > 1 ? words : text.split(/\s+/);
  if (parts.length < 2 || parts.length > 12) return undefined;
  const found = new Set(parts.map((part) => meaningOf(role, meanings, part)));
  if (found.has(undefined)) return undefined;
  const settling = prevailing[role];
  if (settling !== undefined && found.has(settling)) return settling;
  return found.size === 1 ? [...found][0] : undefined;
}

interface Explained {
  readonly meanings: ReadonlyMap<string, string>;
  readonly unclear: boolean;
  readonly set: Readonly<Record<string, string>> | null;
}

/** Finds the set that explains most of the texts no word explains; unclear when two sets explain as much differently. */
function explain(coding: Coding, rowsOf: ReadonlyMap<string, number>): Explained {
  const words = wordMap(coding);
  const open = [...rowsOf.keys()].filter((text) => !words.has(text));
  const covered = (set: Readonly<Record<string, string>>): number =>
    open.reduce((sum, text) => sum + (text in set ? (rowsOf.get(text) ?? 0) : 0), 0);
  const most = Math.max(0, ...coding.sets.map(covered));
  if (most === 0) return { meanings: words, unclear: false, set: null };
  const best = coding.sets.filter((set) => covered(set) === most);
  const readings = new Set(best.map((set) => JSON.stringify(open.map((text) => set[text] ?? null))));
  const set = best[0] ?? {};
  return { meanings: new Map([...Object.entries(set), ...words]), unclear: readings.size > 1, set };
}

/** The question to the user, when the column's own texts leave it open; `empty` are the texts that mean nothing in any reading. */
function unclear(role: CodingRole, cells: Cells, empty: Uint8Array): InputProblem {
  const present = cells.values.filter((_, index) => empty[index] !== 1);
  const options = codings[role].meanings.map((meaning) => meaning.name);
  return inputProblem("codes-unclear", cells.file, {
    column: cells.name,
    details: { role, values: present.slice(0, valuesListed), distinct: present.length, options },
  });
}

function rowsByText(cells: Cells, missing: Uint8Array): Map<string, number> {
  const rows = new Map<string, number>();
  cells.values.forEach((value, index) => {
    if (missing[index] === 1) return;
    const text = codeText(value);
    rows.set(text, (rows.get(text) ?? 0) + (cells.counts[index] ?? 0));
  });
  return rows;
}

/**
 * Reads a column of coded answers: by the codes that the settings state, else by the words and sets of codes in use for
 * the role. A column that two sets explain differently, or that none explains for half of its rows, is put to the user;
 * single texts that are not understood are named.
 */
export function readCodes(role: CodingRole, cells: Cells, spec: RoleSpec): ReadCodes {
  const coding = codings[role];
  const missing = missingTexts(cells, spec.missing);
  const empty = missing.slice();
  const rowsOf = rowsByText(cells, missing);
  const explained: Explained =
    spec.codes === undefined
      ? explain(coding, rowsOf)
      : { meanings: statedMeanings(spec.codes, coding), unclear: false, set: null };
  const byText = new Int32Array(cells.values.length).fill(-1);
  const problems: InputProblem[] = [];
  const meanings: Record<string, string[]> = Object.fromEntries(coding.meanings.map(({ name }) => [name, []]));
  const rows = { all: 0, known: 0 };
  cells.values.forEach((value, index) => {
    if (missing[index] === 1) return;
    const count = cells.counts[index] ?? 0;
    const meaning = meaningOf(role, explained.meanings, value);
    rows.all += count;
    if (meaning === undefined) {
      const kind = codeLike.test(asciiDigits(value)) ? "missing-code-likely" : "unknown-code";
      problems.push(cellProblem(kind, cells, index, { role, options: coding.meanings.map(({ name }) => name) }));
      return;
    }
    rows.known += count;
    if (meaning === "") missing[index] = 1;
    else {
      byText[index] = coding.meanings.find(({ name }) => name === meaning)?.code ?? -1;
      meanings[meaning]?.push(value);
    }
  });
  const open = explained.unclear || (spec.codes === undefined && rows.known * 2 < rows.all);
  return {
    cells,
    byText,
    missing,
    meanings,
    byIsoSexNumbers: role === "sex" && explained.set === sexNumbers,
    problems: open ? [unclear(role, cells, empty)] : problems,
  };
}
