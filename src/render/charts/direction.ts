import type { Words } from "../words.js";
import type { Spec } from "./figure.js";

/** Places in rows of so many, each row turned round. */
function fromTheRight<Item>(items: readonly Item[], columns: number): Item[] {
  return items
    .map((item, i) => ({ item, row: Math.floor(i / columns), column: i % columns }))
    .sort((a, b) => a.row - b.row || b.column - a.column)
    .map(({ item }) => item);
}

/** What stands in rows of so many, in the order from left to right in which the language reads it. */
export const inReadingOrder = <Item>(items: readonly Item[], columns: number, { direction }: Words): readonly Item[] =>
  direction === "rtl" ? fromTheRight(items, columns) : items;

/** Texts that begin at the start of a view so wide, `inset` from its edge: at its right where words run from right to left. */
export const atStart = (
  { direction }: Words,
  width: number,
  inset = 0,
): { readonly align: string; readonly x: Spec } =>
  direction === "rtl" ? { align: "right", x: { value: width - inset } } : { align: "left", x: { value: inset } };

/** Where headers and titles are anchored. */
export const startAnchor = ({ direction }: Words): "start" | "end" => (direction === "rtl" ? "end" : "start");
