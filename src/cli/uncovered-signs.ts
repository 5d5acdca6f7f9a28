import { isEmbedded } from "../render/charts/text-width.js";

const mostSaid = 8;

/**
 * Letters and other visible signs of a page that the report's own typefaces lack, in the order met, eight at most. A
 * browser takes them from the computer's fonts; where no font has them they are missing from the PDF without a word.
 */
export function uncoveredSigns(html: string): string[] {
  const text = html.replace(/<style[\s\S]*?<\/style>/g, "").replace(/<[^>]*>/g, "");
  const found = new Set<string>();
  for (const sign of text) {
    const point = sign.codePointAt(0) ?? 0;
    if (point < 0x80 || !/[\p{L}\p{M}\p{N}\p{S}\p{P}]/u.test(sign)) continue;
    if (!isEmbedded(sign)) found.add(sign);
    if (found.size === mostSaid) break;
  }
  return [...found];
}
