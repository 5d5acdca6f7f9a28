// Writes advance-widths.json: how wide each character of the embedded sans, further Latin and Arabic faces is, in thousandths of the
// type size, with which the charts measure their labels. Run `node templates/style/advance-widths.mjs` after changing a font file.
import { readFileSync, writeFileSync } from "node:fs";
import { create } from "fontkit";

const here = new URL(".", import.meta.url);
const widths = {};
for (const weight of ["400", "600"]) {
  const table = {};
  // In the order of the style sheet's list of families: what two faces have is drawn by the first.
  for (const face of ["sans", "letters", "arabic"]) {
    const font = create(readFileSync(new URL(`fonts/${face}-${weight}.woff2`, here)));
    for (const point of [...font.characterSet].sort((a, b) => a - b)) {
      table[String.fromCodePoint(point)] ??= Math.round(
        (font.glyphForCodePoint(point).advanceWidth * 1000) / font.unitsPerEm,
      );
    }
  }
  widths[weight] = table;
}
writeFileSync(new URL("advance-widths.json", here), `${JSON.stringify(widths, null, 0).replaceAll("},", "},\n")}\n`);
