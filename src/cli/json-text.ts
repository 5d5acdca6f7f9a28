/** Levels of lists and mappings that results may have: those of this program have nine. */
const mostLevels = 60;

/** True where lists and mappings lie within each other deeper than any results do. */
function isTooDeep(raw: unknown): boolean {
  let level: unknown[] = [raw];
  for (let depth = 0; level.length > 0; depth++) {
    if (depth > mostLevels) return true;
    level = level.flatMap((value) => (typeof value === "object" && value !== null ? Object.values(value) : []));
  }
  return false;
}

/** What a JSON text holds; null where it is none, or is nested beyond any use. */
export function parsedJson(text: string): { readonly raw: unknown } | null {
  try {
    const raw: unknown = JSON.parse(text);
    return isTooDeep(raw) ? null : { raw };
  } catch {
    return null;
  }
}
