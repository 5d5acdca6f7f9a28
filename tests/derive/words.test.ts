import { readFileSync } from "node:fs";
import { IntlMessageFormat } from "intl-messageformat";
import { describe, expect, it } from "vitest";
import { indexIds, noScoreReasons } from "../../src/derive/children.js";

const file = new URL("../../templates/locales/en.json", import.meta.url);
const words = JSON.parse(readFileSync(file, "utf8")) as Record<string, string>;

describe("the words of derived columns", () => {
  it("name every index, rule and reason", () => {
    const ids = [
      ...indexIds.map((id) => `index.${id}`),
      ...["none", "fixed", "around-mean"].flatMap((rule) => [`exclusion.${rule}`, `exclusion.${rule}.explain`]),
      ...noScoreReasons.filter((reason) => reason !== "computed").map((reason) => `no-score.${reason}`),
      ...["age-outside", "age-impossible"].map((reason) => `left-out.${reason}`),
    ];
    expect(ids.filter((id) => (words[id] ?? "") === "")).toEqual([]);
  });

  it("are well-formed messages", () => {
    const values = { width: 3, low: 100, high: 200 };
    const own = Object.entries(words).filter(([id]) => /^(index|exclusion|no-score|left-out|derive)\./.test(id));
    expect(own.length).toBeGreaterThan(20);
    for (const [, text] of own) {
      expect(String(new IntlMessageFormat(text, "en").format(values))).not.toMatch(/[{}]/);
    }
  });
});
