import { Document, Scalar, YAMLMap, YAMLSeq } from "yaml";
import { unanswered, unansweredLines } from "../settings/settings-file.js";

/** A value of the draft. */
export type DraftValue = string | number | readonly string[] | { readonly [key: string]: DraftValue };

/** One thing that the draft says: comments, and below them a key with its value. */
export interface DraftEntry {
  /** Sentences, each on a line of its own. */
  readonly comments: readonly string[];
  readonly key?: string;
  readonly value?: DraftValue | readonly DraftEntry[];
  /** True where the key is written as a comment, to be switched on by the user. */
  readonly off?: boolean;
  /** True where an empty line stands before it. */
  readonly apart?: boolean;
}

const reserved = /^(?:true|false|null|yes|no|on|off|y|n)$/i;

/** True for a text that no reader of the notation can take for anything else. */
const isPlain = (text: string): boolean => /^[\p{L}_][\p{L}\p{N}_/.-]*$/u.test(text) && !reserved.test(text);

function scalarOf(value: string | number): Scalar {
  const scalar = new Scalar(value);
  if (typeof value === "string" && !isPlain(value)) scalar.type = "QUOTE_DOUBLE";
  return scalar;
}

function nodeOf(value: DraftValue): Scalar | YAMLSeq | YAMLMap {
  if (typeof value === "string" || typeof value === "number") return scalarOf(value);
  if (Array.isArray(value)) {
    const list = new YAMLSeq();
    list.flow = true;
    list.items = value.map(scalarOf);
    return list;
  }
  const map = new YAMLMap();
  for (const [key, inner] of Object.entries(value)) map.set(scalarOf(key), nodeOf(inner));
  return map;
}

/** One line each, however long: what stands in a line break of a name must not become a line of the file. */
const writing = { lineWidth: 0, flowCollectionPadding: false, doubleQuotedMinMultiLineLength: Number.MAX_SAFE_INTEGER };

/** Comments as the notation's writer wants them: a space behind the sign, nothing in an empty line. */
const commented = (lines: readonly string[]): string => lines.map((line) => (line === "" ? "" : ` ${line}`)).join("\n");

/** A key with its value as lines of a comment. */
function switchedOff(key: string, value: DraftValue): string[] {
  return new Document({ [key]: nodeOf(value) }).toString(writing).trimEnd().split("\n");
}

const isEntries = (value: DraftEntry["value"]): value is readonly DraftEntry[] =>
  Array.isArray(value) && value.length > 0 && typeof value[0] === "object";

/** Entries as a mapping, with the comments that stand behind its last key. */
function mapOf(entries: readonly DraftEntry[]): { readonly map: YAMLMap; readonly behind: string } {
  const map = new YAMLMap();
  let before: string[] = [];
  let spaceBefore = false;
  for (const { comments, key, value, off = false, apart = false } of entries) {
    if (before.length === 0) spaceBefore = apart;
    else if (apart) before.push("");
    before.push(...comments);
    if (key === undefined || value === undefined) continue;
    if (off && !isEntries(value)) {
      before.push(...switchedOff(key, value));
      continue;
    }
    const name = scalarOf(key);
    name.spaceBefore = spaceBefore;
    if (before.length > 0) name.commentBefore = commented(before);
    map.set(name, isEntries(value) ? innerMap(value) : nodeOf(value));
    before = [];
  }
  return { map, behind: commented(before) };
}

function innerMap(entries: readonly DraftEntry[]): YAMLMap {
  const { map, behind } = mapOf(entries);
  if (behind !== "") map.comment = behind;
  return map;
}

/** A drafted settings file. */
export interface DraftText {
  readonly text: string;
  /** Numbers, from 1, of the lines that hold an open question. */
  readonly openLines: readonly number[];
}

/** The text of the entries. `head` gives the sentences at the top, always as many, from the lines that are open. */
export function draftText(
  entries: readonly DraftEntry[],
  head: (openLines: readonly number[]) => readonly string[],
): DraftText {
  const document = new Document();
  const { map, behind } = mapOf(entries);
  document.contents = map as typeof document.contents;
  if (behind !== "") document.comment = behind;
  document.commentBefore = commented(head([]));
  const openLines = unansweredLines(document.toString(writing));
  document.commentBefore = commented(head(openLines));
  return { text: document.toString(writing), openLines };
}

/** True where one of the entries asks for a value of this key. */
export function asksFor(entries: readonly DraftEntry[], keys: readonly string[]): boolean {
  return entries.some(
    ({ key, value, off = false }) => !off && value === unanswered && key !== undefined && keys.includes(key),
  );
}
