/**
 * Signs that no page, drawing or document may hold: controls but for tab and line ends, halves of a sign, and what is no sign at
 * all, which XML forbids (XML 1.0, section 2.2); and the signs that turn the direction of everything behind them, the
 * report's own text included (Unicode Standard Annex 9: embeddings, overrides and isolates).
 */
const unreadable = /(?![\t\n\r])[\p{Cs}\p{Cc}\u202A-\u202E\u2066-\u2069\uFFFE\uFFFF]/gu;

/** A text without such signs. */
function readableText(text: string): string {
  return text.search(unreadable) < 0 ? text : text.replace(unreadable, "");
}

/**
 * Results or a comparison as they may be drawn: every text in them without signs that would break the output or reorder its
 * words. What is clean already comes back as it is.
 */
export function readable<Value>(value: Value): Value {
  if (typeof value === "string") return readableText(value) as Value;
  if (typeof value !== "object" || value === null) return value;
  if (Array.isArray(value)) {
    const items = value.map(readable);
    return items.every((item, i) => item === value[i]) ? value : (items as Value);
  }
  let changed = false;
  const entries = Object.entries(value).map(([key, inner]) => {
    const [name, shown] = [readableText(key), readable(inner)];
    changed ||= name !== key || shown !== inner;
    return [name, shown] as const;
  });
  return changed ? (Object.fromEntries(entries) as Value) : value;
}
