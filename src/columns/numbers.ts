import type { InputProblem } from "../settings/problems.js";
import type { RoleSpec } from "../settings/roles.js";
import { type Cells, cellProblem } from "./cells.js";

const plain = /^([+-]?)(\d+|\d*[.,]\d+)(?:[eE]([+-]?\d{1,3}))?$/;

/** Digits of Arabic and Persian script, their decimal sign and the typographic minus, as ASCII. */
export function asciiDigits(text: string): string {
  if (!/[^\x20-\x7e]/.test(text)) return text;
  return text
    .replace(/[\u0660-\u0669]/g, (digit) => String(digit.charCodeAt(0) - 0x0660))
    .replace(/[\u06f0-\u06f9]/g, (digit) => String(digit.charCodeAt(0) - 0x06f0))
    .replace(/\u066b/g, ".")
    .replace(/\u2212/g, "-");
}

/** The number a text writes, with a point or a comma as decimal sign; NaN for anything else, a unit behind it included. */
export function parseNumber(text: string): number {
  const match = plain.exec(asciiDigits(text));
  if (match === null) return Number.NaN;
  return Number(`${match[1]}${(match[2] ?? "").replace(",", ".")}${match[3] === undefined ? "" : `e${match[3]}`}`);
}

/** The decimal sign a numeric text is written with. */
function decimalSign(text: string): "point" | "comma" | null {
  if (text.includes(",")) return "comma";
  return text.includes(".") || text.includes("\u066b") ? "point" : null;
}

/** A column of numbers, by distinct text. */
export interface NumberTexts {
  /** NaN where missing or not a number. */
  readonly numbers: Float64Array;
  readonly problems: readonly InputProblem[];
  /** The decimal sign in use; null when only whole numbers were met. */
  readonly decimal: "point" | "comma" | null;
}

/**
 * Reads each distinct text of a column as a number. The decimal sign is one for the whole column: where both stand, the
 * cells with the rarer one are a problem, since '1,234' and '1.234' may then mean different things.
 */
export function readNumbers(cells: Cells, missing: Uint8Array, stated: RoleSpec["decimal"]): NumberTexts {
  const numbers = new Float64Array(cells.values.length).fill(Number.NaN);
  const problems: InputProblem[] = [];
  const rows = { point: 0, comma: 0 };
  cells.values.forEach((text, index) => {
    if (missing[index] === 1) return;
    const number = parseNumber(text);
    const sign = decimalSign(text);
    if (!Number.isFinite(number) || (stated !== undefined && sign !== null && sign !== stated)) {
      problems.push(cellProblem("not-a-number", cells, index));
      return;
    }
    numbers[index] = number;
    if (sign !== null) rows[sign] += cells.counts[index] ?? 0;
  });
  const decimal = rows.point + rows.comma === 0 ? null : rows.comma > rows.point ? "comma" : "point";
  if (rows.point > 0 && rows.comma > 0) {
    const rare = decimal === "comma" ? "point" : "comma";
    cells.values.forEach((text, index) => {
      if (!Number.isNaN(numbers[index] ?? Number.NaN) && decimalSign(text) === rare) {
        problems.push(cellProblem("mixed-decimal-signs", cells, index, { usual: decimal ?? "point", ...rows }));
      }
    });
  }
  return { numbers, problems, decimal };
}
