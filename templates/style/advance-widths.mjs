// Writes advance-widths.json: how wide each character of the embedded sans face is, in thousandths of the type size, with
// which the charts measure their labels. Run `node templates/style/advance-widths.mjs` after changing a font file.
import { readFileSync, writeFileSync } from "node:fs";
import { create } from "fontkit";

const here = new URL(".", import.meta.url);
const widths = {};
for (const weight of ["400", "600"]) {
  const font = create(readFileSync(new URL(`fonts/sans-${weight}.woff2`, here)));
  const table = {};
  for (const point of [...font.characterSet].sort((a, b) => a - b)) {
    table[String.fromCodePoint(point)] = Math.round(
      (font.glyphForCodePoint(point).advanceWidth * 1000) / font.unitsPerEm,
    );
  }
  widths[weight] = table;
}
writeFileSync(new URL("advance-widths.json", here), `${JSON.stringify(widths, null, 0).replaceAll("},", "},\n")}\n`);
