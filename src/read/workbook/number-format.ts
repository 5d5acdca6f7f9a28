/**
 * Numbers of the built-in formats that show a date or a time (ECMA-376 Part 1, 18.8.30; 27 to 36 and 50 to 58 are those of East
 * Asian languages). From memory.
 */
function isBuiltInDate(id: number): boolean {
  return (id >= 14 && id <= 22) || (id >= 27 && id <= 36) || (id >= 45 && id <= 47) || (id >= 50 && id <= 58);
}

/** True for a format of the user's own that shows a date or a time: a letter of one stands outside quotes and brackets. */
function isDateCode(code: string): boolean {
  const positive = code.split(";")[0] ?? "";
  // Elapsed hours stand in brackets of their own; other brackets hold colours, conditions and languages.
  if (/\[(?:h+|m+|s+)\]/i.test(positive)) return true;
  const bare = positive.replace(/"[^"]*"|\[[^\]]*\]|\\.|_.|\*./g, "");
  return !/general/i.test(bare) && /[dmyhs]/i.test(bare);
}

/** Whether a cell with this number format holds a date. */
export function showsDate(formatId: number, code: string | undefined): boolean {
  return code === undefined ? isBuiltInDate(formatId) : isDateCode(code);
}

/** Days from the first day of the two date systems to 1970-01-01 (1899-12-30 and 1904-01-01). */
const daysBefore1970 = { "1900": 25_569, "1904": 24_107 } as const;
export type DateSystem = keyof typeof daysBefore1970;

const secondsADay = 86_400;

/** A spreadsheet's day number as year-month-day, with the time of day behind it if it has one. */
export function serialText(serial: number, system: DateSystem): string {
  // The 1900 system counts a 29 February 1900 that never was: earlier days lie one further on.
  const early = system === "1900" && serial >= 1 && serial < 60 ? 1 : 0;
  const seconds = Math.round((serial + early - daysBefore1970[system]) * secondsADay);
  const date = new Date(seconds * 1000);
  if (Number.isNaN(date.getTime()) || date.getUTCFullYear() > 9999) return String(serial);
  const text = date.toISOString().slice(0, 19);
  if (serial >= 0 && serial < 1) return text.slice(11);
  return text.endsWith("T00:00:00") ? text.slice(0, 10) : text;
}

/** A number as a spreadsheet shows it: 15 digits, so that 12.300000000000001 is 12.3. */
export function numberText(written: string): string {
  const value = Number(written);
  if (written.trim() === "" || !Number.isFinite(value)) return written;
  return String(Number(value.toPrecision(15)));
}
