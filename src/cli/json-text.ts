/** Levels of lists and mappings that results may have: those of this program have nine. */
const mostLevels = 60;

/** True where lists and mappings lie within each other deeper than `levels`. */
function isDeeper(raw: unknown, levels: number): boolean {
  if (typeof raw !== "object" || raw === null) return false;
  if (levels === 0) return true;
  if (Array.isArray(raw)) return raw.some((value) => isDeeper(value, levels - 1));
  for (const name in raw) if (isDeeper((raw as Record<string, unknown>)[name], levels - 1)) return true;
  return false;
}

/** What a JSON text holds; null where it is none, or is nested beyond any use. */
export function parsedJson(text: string): { readonly raw: unknown } | null {
  try {
    const raw: unknown = JSON.parse(text);
    return isDeeper(raw, mostLevels) ? null : { raw };
  } catch {
    return null;
  }
}
