import type { Unit } from "../results/schema.js";

/** What stands for a number that is not there. */
export const emDash = "\u2014";

/** Fewest and most decimals a unit is written with. Shares count the decimals of the percentage. */
const decimalsOf: Readonly<Record<Unit, readonly [number, number]>> = {
  count: [0, 0],
  share: [1, 1],
  "share-difference": [1, 1],
  ratio: [2, 2],
  index: [1, 1],
  z: [2, 2],
  kilogram: [2, 2],
  centimetre: [1, 1],
  millimetre: [1, 1],
  month: [0, 1],
  day: [0, 0],
  probability: [3, 3],
  statistic: [2, 2],
  "degrees-of-freedom": [0, 1],
};

const made = new Map<string, Intl.NumberFormat>();

/** Intl's formatter, kept, with a true minus sign, no sign on a zero, and an em dash for what is not a number. */
export function numberFormat(locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  const found = made.get(key);
  if (found !== undefined) return found;
  const format = new Intl.NumberFormat(locale, {
    signDisplay: "negative",
    ...options,
  });
  const written = (value: number | bigint): string =>
    typeof value === "number" && !Number.isFinite(value) ? emDash : format.format(value).replace("-", "\u2212");
  const wrapped = Object.create(format, {
    format: { value: written },
    formatToParts: {
      value: (value: number) => [{ type: "literal" as const, value: written(value) }],
    },
    resolvedOptions: { value: () => format.resolvedOptions() },
  }) as Intl.NumberFormat;
  made.set(key, wrapped);
  return wrapped;
}

/** Formats by unit: what is asked for with every number, without spelling out its options anew. */
const ofUnit = new Map<string, Intl.NumberFormat>();

/** A number in its unit; `decimals` overrules what the unit is usually written with (for the ticks of an axis). */
export function writeNumber(locale: string, value: number, unit: Unit, decimals?: number): string {
  const [usualLeast, usualMost] = decimalsOf[unit];
  // An expected count is rarely whole: hiding its decimal would make a difference of counts look wrong.
  const most = unit === "count" && !Number.isInteger(value) && Math.abs(value) < 1000 ? 1 : usualMost;
  const points = unit === "share-difference";
  const key = `${locale} ${unit} ${decimals ?? usualLeast} ${decimals ?? most}`;
  const format =
    ofUnit.get(key) ??
    numberFormat(locale, {
      ...(points ? { signDisplay: "exceptZero" as const } : {}),
      style: unit === "share" ? "percent" : "decimal",
      minimumFractionDigits: decimals ?? usualLeast,
      maximumFractionDigits: decimals ?? most,
    });
  ofUnit.set(key, format);
  return format.format(points ? 100 * value : value);
}
