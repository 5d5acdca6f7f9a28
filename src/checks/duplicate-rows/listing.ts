import type { Children } from "../../derive/children.js";
import { message } from "../../results/message.js";
import type { RowToCheck } from "../check.js";
import { rowCodes } from "./equal-pairs.js";
import { sizesOf } from "./repeats.js";

/** A row names at most this many of its equals, so that a file of identical rows stays readable. */
const mostOthersNamed = 5;

/** Every row that equals another, with the measures compared and the rows that it equals. */
export function rowsOf(children: Children): RowToCheck[] {
  const { all } = rowCodes(children);
  const members = new Map<number, number[]>();
  const sizes = sizesOf(all);
  all.forEach((code, i) => {
    if (code < 0 || (sizes[code] as number) < 2) return;
    const set = members.get(code);
    if (set === undefined) members.set(code, [i]);
    else set.push(i);
  });
  const columns = [children.weight, children.height, children.arm].filter((column) => column !== null);
  const names = columns.map(({ name }) => name);
  const rows = [...members.values()].flatMap((set) => {
    set.sort((a, b) => (children.sheetRow[a] as number) - (children.sheetRow[b] as number));
    const first = set.slice(0, mostOthersNamed + 1).map((child) => children.sheetRow[child] as number);
    return set.map((child) => {
      const own = children.sheetRow[child] as number;
      const others = first.filter((row) => row !== own).slice(0, mostOthersNamed);
      return {
        sheetRow: own,
        columns: names,
        message: message("checks.duplicate-rows.row", { rows: others, more: set.length - 1 - others.length }),
      };
    });
  });
  return rows.sort((a, b) => a.sheetRow - b.sheetRow);
}
