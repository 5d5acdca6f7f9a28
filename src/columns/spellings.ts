import type { Cells } from "./cells.js";
import { naturalOrder } from "./natural-order.js";
import { asciiDigits } from "./numbers.js";

/** How sure it is that two spellings mean one label. */
export type Alike = "same" | "nearly";

/** What each distinct text of a column stands for, and how many were taken for one. */
export interface Spellings {
  /** For each distinct text the spelling taken for it and its equals; null where it stands for a missing value. */
  readonly byText: readonly (string | null)[];
  /** Spellings and labels among those that were taken for one; null where every spelling is a label of its own. */
  readonly same: MergedSpellings | null;
  readonly nearly: MergedSpellings | null;
}

export interface MergedSpellings {
  readonly spellings: number;
  readonly labels: number;
}

const fraction = /^-?\d+[.,]0*[1-9]\d*$/;
const beyondAscii = /[^\x20-\x7e]/;
const wholeWithPoint = /^(-?\d+)[.,]0+$/;

/**
 * A label as it is meant, whatever program wrote it: one Unicode form, no invisible signs, single spaces, digits of one script,
 * and whole numbers without a point and zeros where the column holds no fractions.
 */
function sameKey(text: string, wholeNumbers: boolean): string {
  const seen = beyondAscii.test(text) ? asciiDigits(text.normalize("NFC").replace(/\p{Cf}/gu, "")) : text;
  const plain = seen.replace(/\s+/g, " ").trim();
  return wholeNumbers ? plain.replace(wholeWithPoint, "$1") : plain;
}

/** The same without capital letters, zeros before a number, and spaces between letters and numbers. */
function nearlyKey(key: string): string {
  return key
    .toLowerCase()
    .replace(/(?<![\d.,])0+(?=\d)/g, "")
    .replace(/(?<=\p{L}) (?=\d)|(?<=\d) (?=\p{L})/gu, "");
}

/** A label's text as it is compared with another's: what settings call a stratum is found in the data by it. */
export function labelKey(text: string): string {
  return nearlyKey(sameKey(text, true));
}

/** Of the spellings of one label the most frequent; of equally frequent ones the first in natural order. */
function commonest(indices: readonly number[], { values, counts }: Cells): string {
  const [first = 0, ...others] = indices;
  const best = others.reduce((before, index) => {
    const more = (counts[index] ?? 0) - (counts[before] ?? 0);
    const earlier = naturalOrder(values[index] ?? "", values[before] ?? "") < 0;
    return more > 0 || (more === 0 && earlier) ? index : before;
  }, first);
  return values[best] ?? "";
}

function groupBy(indices: readonly number[], keyOf: (index: number) => string): number[][] {
  const groups = new Map<string, number[]>();
  for (const index of indices) {
    const key = keyOf(index);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [index]);
    else group.push(index);
  }
  return [...groups.values()];
}

/** Of how many spellings how many labels were made, among the groups of more than one; null where there are none. */
function mergedIn(sizes: readonly number[]): MergedSpellings | null {
  const merged = sizes.filter((size) => size > 1);
  return merged.length === 0 ? null : { spellings: merged.reduce((sum, size) => sum + size, 0), labels: merged.length };
}

/**
 * Takes spellings of one label together. Those that differ in nothing that a reader sees, or in '.0' or the script of digits, are
 * the same; those that differ in capital letters, leading zeros or a space before a number are nearly so: taken together too
 * where `most` is 'nearly', since a label kept apart by them would count as a cluster, team or stratum of its own.
 */
export function spellingsOf(cells: Cells, missing: Uint8Array, most: Alike): Spellings {
  const present = cells.values.map((_, index) => index).filter((index) => missing[index] !== 1);
  const wholeNumbers = !cells.values.some((text) => fraction.test(asciiDigits(text)));
  const keys = cells.values.map((text) => sameKey(text, wholeNumbers));
  const same = groupBy(present, (index) => keys[index] ?? "");
  const fold = (index: number): string => nearlyKey(keys[index] ?? "");
  const nearly = most === "same" ? same : groupBy(present, fold);
  const byText: (string | null)[] = cells.values.map(() => null);
  for (const group of nearly) {
    const label = commonest(group, cells);
    for (const index of group) byText[index] = label;
  }
  const keysIn = (group: readonly number[]): number => new Set(group.map((index) => keys[index])).size;
  return {
    byText,
    same: mergedIn(same.map((group) => group.length)),
    nearly: mergedIn(nearly.map(keysIn)),
  };
}
