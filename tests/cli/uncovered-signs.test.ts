import { readdirSync, readFileSync } from "node:fs";
import { create } from "fontkit";
import { describe, expect, it } from "vitest";
import { uncoveredSigns } from "../../src/cli/uncovered-signs.js";

describe("signs that the typefaces lack", () => {
  it("are named once each, in the order met, eight at most", () => {
    expect(uncoveredSigns("<p title='ж'>አማርኛ, ስም</p>")).toEqual(["አ", "ማ", "ር", "ኛ", "ስ", "ም"]);
    expect(uncoveredSigns("<p>абвгдежзик</p>")).toHaveLength(8);
  });

  it("are none in the words of the languages that the fonts were cut for, nor in styles and names of marks", () => {
    expect(
      uncoveredSigns(
        "<style>p::before { content: 'ж' }</style><p>Équipe d’Óscar, ½ ≤ 5 – œdème, ção, ñ, Ɗan ƙasa, ŋɔ̃, الشمال؟</p>",
      ),
    ).toEqual([]);
    for (const file of readdirSync("templates/locales").filter((name) => name.endsWith(".json"))) {
      expect(uncoveredSigns(readFileSync(`templates/locales/${file}`, "utf8")), file).toEqual([]);
    }
  });

  it("are reckoned by what the font files hold", () => {
    const held = new Set(
      readdirSync("templates/style/fonts")
        .filter((name) => /^(sans|letters|arabic)-400\.woff2$/.test(name))
        .flatMap((name) => create(readFileSync(`templates/style/fonts/${name}`)).characterSet),
    );
    expect(held.size).toBeGreaterThan(900);
    for (let point = 0x80; point < 0x3000; point++) {
      const sign = String.fromCodePoint(point);
      if (!/[\p{L}\p{M}\p{N}\p{S}\p{P}]/u.test(sign)) continue;
      expect(uncoveredSigns(sign).length, point.toString(16)).toBe(held.has(point) ? 0 : 1);
    }
  });
});
