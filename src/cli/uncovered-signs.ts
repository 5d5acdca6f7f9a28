/** What the report's own typefaces hold: the ranges of `templates/style/fonts/subset.py`. */
// biome-ignore format: as in subset.py
const ranges: readonly (readonly [number, number])[] = [
  [0x20, 0x7e], [0xa0, 0x17f], [0x218, 0x21b], [0x2bb, 0x2bc], [0x2c6, 0x2c7], [0x2d8, 0x2dd], [0x391, 0x3a9],
  [0x3b1, 0x3c9], [0x1e9e, 0x1e9e], [0x2007, 0x200b], [0x2010, 0x2015], [0x2018, 0x201e], [0x2020, 0x2022],
  [0x2026, 0x2026], [0x202f, 0x2030], [0x2032, 0x2033], [0x2039, 0x203a], [0x2044, 0x2044], [0x2060, 0x2060],
  [0x2070, 0x2070], [0x2074, 0x2079], [0x2080, 0x2089], [0x20ac, 0x20ac], [0x2122, 0x2122], [0x2190, 0x2193],
  [0x2212, 0x2212], [0x221a, 0x221a], [0x2248, 0x2248], [0x2260, 0x2260], [0x2264, 0x2265],
];

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
    if (!ranges.some(([low, high]) => point >= low && point <= high)) found.add(sign);
    if (found.size === mostSaid) break;
  }
  return [...found];
}
