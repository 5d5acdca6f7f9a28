import { createHash } from "node:crypto";
import { type Note, type NoteId, note } from "../settings/notes.js";
import { showValue } from "../settings/show-value.js";
import type { Cells } from "./cells.js";
import { missingTexts } from "./missing.js";
import { inNaturalOrder } from "./natural-order.js";
import { type Alike, type MergedSpellings, type Spellings, spellingsOf } from "./spellings.js";
import type { CodedColumn } from "./survey.js";
import { plainWord } from "./words.js";

/** Words that may stand before a number or letter in a code, without accents, in the languages of the column names. */
const codeWords = new Set(
  "team equipe equipo equipa brigada group groupe grupo cluster grappe conglomerado ea zd psu upm hh household menage hogar stratum strate estrato area zone zona no num فريق عنقود".split(
    " ",
  ),
);

/**
 * True for a label that names nobody and no place: a number, one letter, up to two letters with a number ('T3', '14-B'), or
 * one of the usual words with a number or letter ('team 2'). Initials and names are not code-like.
 */
export function isCodeLike(label: string): boolean {
  if (/^(?:[A-Za-z]{0,2}[ _./-]?\d{1,6}(?:[ _./-]\d{1,6})*(?:[ _./-]?[A-Za-z])?|[A-Za-z])$/.test(label)) return true;
  if (!/^[\p{L}\p{M}]+\.?[ _-]*(?:\d{1,6}|[A-Za-z])$/u.test(label)) return false;
  const [, word = "", rest = ""] = /^(.*?)_?(\d+|[a-z])$/.exec(plainWord(label)) ?? [];
  return rest !== "" && codeWords.has(word);
}

/** A, B ... Z, AA, AB ... */
export function letters(index: number): string {
  const rest = Math.floor(index / 26);
  return (rest === 0 ? "" : letters(rest - 1)) + String.fromCharCode(65 + (index % 26));
}

/** Labels that may be printed: code-like ones as they are, all others as the next free letter. */
export function publicLabels(labels: readonly string[]): { readonly labels: string[]; readonly disguised: boolean } {
  const kept = new Set(labels.filter(isCodeLike).map((label) => label.toUpperCase()));
  let next = 0;
  const shown = labels.map((label) => {
    if (isCodeLike(label)) return label;
    while (kept.has(letters(next))) next += 1;
    return letters(next++);
  });
  return { labels: shown, disguised: kept.size < new Set(labels.map((label) => label.toUpperCase())).size };
}

/** A label's place among disguised ones: told by a fingerprint, since neither the alphabet nor the file's order may tell who is who. */
function fingerprint(label: string): string {
  return createHash("sha256").update(label).digest("hex");
}

/** Labels that may be printed as they are in natural order, then the others in an order that tells nothing of them. */
function inOrder(labels: readonly string[], named: boolean): string[] {
  const isPlain = (label: string): boolean => named || isCodeLike(label);
  const plain = inNaturalOrder(labels.filter(isPlain));
  const hidden = labels.filter((label) => !isPlain(label)).map((label) => ({ label, mark: fingerprint(label) }));
  hidden.sort((a, b) => (a.mark < b.mark ? -1 : 1));
  return [...plain, ...hidden.map(({ label }) => label)];
}

/** A column of categories, and what was said of its spellings. */
export interface ReadLabels {
  readonly column: CodedColumn;
  readonly notes: readonly Note[];
}

function spellingNotes({ name }: Cells, { same, nearly }: Spellings): Note[] {
  const said = (id: NoteId, merged: MergedSpellings | null): Note[] =>
    merged === null ? [] : [note(id, { column: showValue(name), ...merged })];
  return [...said("labels-same", same), ...said("labels-nearly-same", nearly)];
}

/**
 * A column of categories. Its labels are in natural order, those that are disguised behind the others, so that neither letters nor
 * numbers depend on the order of the rows; spellings of one label are taken together (`spellings.ts`). `named` columns (areas,
 * strata and the columns the user listed for subgroups) keep their labels in print: they are categories named on purpose. In all
 * others anything that is not code-like is disguised.
 */
export function readLabels(
  cells: Cells,
  missingCodes: readonly string[],
  named: boolean,
  alike: Alike = "nearly",
): ReadLabels {
  const spellings = spellingsOf(cells, missingTexts(cells, missingCodes), alike);
  const labels = inOrder(
    [...new Set(spellings.byText)].filter((label) => label !== null),
    named,
  );
  const codeOf = new Map(labels.map((label, code) => [label, code]));
  const byText = spellings.byText.map((label) => (label === null ? -1 : (codeOf.get(label) ?? -1)));
  const codes = Int32Array.from(cells.codes, (code) => byText[code] ?? -1);
  const shown = named ? { labels, disguised: false } : publicLabels(labels);
  const column = { name: cells.name, codes, labels, publicLabels: shown.labels, disguised: shown.disguised };
  return { column, notes: spellingNotes(cells, spellings) };
}
