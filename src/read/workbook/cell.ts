import { unescapeText, type WorkbookContents } from "./contents.js";
import { numberText, serialText } from "./number-format.js";

/** A cell as the sheet's XML has it. */
export interface RawCell {
  /** b true or false, d written date, e error, n number, s shared text, str text of a formula, inlineStr text. */
  readonly type: string;
  /** Place in the list of styles. */
  readonly style: number;
  readonly value: string;
}

/** A cell's text: what the spreadsheet shows of it, dates as year-month-day, errors such as #N/A by their name. */
export function cellText(cell: RawCell, contents: WorkbookContents): string {
  const { type, value } = cell;
  switch (type) {
    case "s":
      return contents.texts[Number(value)] ?? "";
    case "b":
      return value === "1" ? "TRUE" : value === "0" ? "FALSE" : value;
    case "d":
      return value.replace(/T00:00:00(?:\.0+)?Z?$/, "");
    case "n": {
      const serial = contents.dateStyles[cell.style] === true && value !== "" ? Number(value) : Number.NaN;
      return Number.isFinite(serial) ? serialText(serial, contents.dateSystem) : numberText(value);
    }
    case "str":
    case "inlineStr":
      return unescapeText(value);
    default:
      return value;
  }
}

/** A cell's address as its column, from 0, and its row, from 1; null where it is none. */
export function cellAddress(address: string): { readonly column: number; readonly row: number } | null {
  const match = /^\$?([A-Za-z]{1,3})\$?(\d{1,7})$/.exec(address);
  if (match === null) return null;
  let column = 0;
  for (const letter of (match[1] ?? "").toUpperCase()) column = column * 26 + letter.charCodeAt(0) - 64;
  return { column: column - 1, row: Number(match[2]) };
}
