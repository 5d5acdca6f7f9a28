import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { uncoveredSigns } from "../../src/cli/uncovered-signs.js";

describe("signs that the typefaces lack", () => {
  it("are named once each, in the order met, eight at most", () => {
    expect(uncoveredSigns("<p title='ж'>Ɗan ƙasa, الشمال</p>")).toEqual(["Ɗ", "ƙ", "ا", "ل", "ش", "م"]);
    expect(uncoveredSigns("<p>абвгдежзик</p>")).toHaveLength(8);
  });

  it("are none in the words of the languages that the fonts were cut for, nor in styles and names of marks", () => {
    expect(
      uncoveredSigns("<style>p::before { content: 'ж' }</style><p>Équipe d’Óscar, ½ ≤ 5 – œdème, ção, ñ</p>"),
    ).toEqual([]);
    expect(uncoveredSigns(readFileSync("templates/locales/en.json", "utf8"))).toEqual([]);
  });

  it("are reckoned by the very ranges that the fonts were cut to", () => {
    const inPython =
      readFileSync("templates/style/fonts/subset.py", "utf8").match(/RANGES = \[([\s\S]*?)\n\]/)?.[1] ?? "";
    const pairs = [...inPython.matchAll(/\((0x[0-9A-F]+), (0x[0-9A-F]+)\)/g)].map(([, low, high]) => [
      Number(low),
      Number(high),
    ]);
    expect(pairs.length).toBeGreaterThan(20);
    const covered = (point: number) => pairs.some(([low = 0, high = 0]) => point >= low && point <= high);
    for (let point = 0x80; point < 0x3000; point++) {
      const sign = String.fromCodePoint(point);
      if (!/[\p{L}\p{M}\p{N}\p{S}\p{P}]/u.test(sign)) continue;
      expect(uncoveredSigns(sign).length, point.toString(16)).toBe(covered(point) ? 0 : 1);
    }
  });
});
