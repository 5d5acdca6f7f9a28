import { describe, expect, it } from "vitest";
import { isEmbedded } from "../../src/render/charts/text-width.js";
import { isolated } from "../../src/render/isolate.js";
import { templateNames, templateText } from "../../src/render/templates.js";
import { loadWords } from "../../src/render/words.js";
import type { Unit } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";

const english = {
  "test.plain": "Weight-for-height",
  "test.share": "{share, number, ::percent .0} of {n, number}",
  "test.sd": "{sd, number, ::.00}",
  "test.plural": "{n, plural, one {# child} other {{n, number} children}}",
  "test.nested": "{inner}: {list}",
  "test.angle": "<b>{name}</b>",
};
const words = loadWords("en", english);

describe("messages", () => {
  it("writes a share as a percentage and groups counts", () => {
    expect(words.text(message("test.share", { share: 0.3104, n: 1412 }))).toBe("31.0% of 1,412");
  });

  it("resolves nested messages, and joins lists as the language does", () => {
    const inner = message("test.plural", { n: 1 });
    expect(words.text(message("test.nested", { inner, list: ["a", message("test.plural", { n: 2000 }), 3] }))).toBe(
      "1 child: a, 2,000 children and 3",
    );
  });

  it("writes a true minus sign, and none before a zero", () => {
    expect(words.text(message("test.sd", { sd: -1.5 }))).toBe("\u22121.50");
    expect(words.text(message("test.sd", { sd: -0 }))).toBe("0.00");
    expect(words.text(message("test.sd", { sd: -0.001 }))).toBe("0.00");
  });

  it("writes an em dash for what is not a number", () => {
    expect(words.text(message("test.sd", { sd: Number.NaN }))).toBe("\u2014");
  });

  it("leaves strings of the data, and angle brackets, as they are: escaping is the page's task", () => {
    expect(words.text("<i>{x}</i>")).toBe("<i>{x}</i>");
    expect(words.text(message("test.angle", { name: "{n, plural}'<" }))).toBe("<b>{n, plural}'<</b>");
  });

  it("marks a missing message visibly and remembers it", () => {
    const fresh = loadWords("en", english);
    expect(fresh.text(message("test.absent"))).toBe("[[test.absent]]");
    expect(fresh.text(message("test.share", { share: 0.1 }))).toBe("[[test.share]]");
    expect([...fresh.missing]).toEqual(["test.absent", "test.share"]);
    expect(fresh.has("toString")).toBe(false);
    expect(fresh.text(message("toString"))).toBe("[[toString]]");
  });

  it("falls back to English in a language that lacks a message, and knows its direction", () => {
    const arabic = loadWords("ar", english);
    expect(arabic.text(message("test.plain"))).toBe("Weight-for-height");
    expect(arabic.direction).toBe("rtl");
    expect(arabic.missing.size).toBe(0);
    expect(arabic.number(1234, "count")).toMatch(/^1\D?234$/);
  });
});

// Unicode Standard Annex 9, 2.4: an isolate keeps the order of what it holds apart from the text around it.
describe("from right to left", () => {
  const arabic = loadWords("ar", { ...english, "test.choice": "{kind, select, a {{name}} other {no}}" });

  it("data stand in isolates, alone, in a sentence and in a list", () => {
    expect(arabic.text("2025-03")).toBe(isolated("2025-03"));
    expect(arabic.text(message("test.nested", { inner: "T1", list: ["a", "b"] }))).toBe(
      `${isolated("T1")}: ${arabic.list([isolated("a"), isolated("b")])}`,
    );
    expect(arabic.text("")).toBe("");
  });

  it("a choice is made by the value itself, and messages within messages are no data", () => {
    expect(arabic.text(message("test.choice", { kind: "a", name: "x" }))).toBe(isolated("x"));
    expect(arabic.text(message("test.nested", { inner: message("test.plain"), list: [] }))).toBe("Weight-for-height: ");
  });

  it("a sign stands before its number, held there by a mark, and digits are Latin", () => {
    expect(arabic.number(-0.4, "z")).toBe("\u200E\u22120.40");
    expect(arabic.number(0.123, "share")).toBe("12.3\u200E%\u200E");
  });

  it("no isolates elsewhere", () =>
    expect(words.text(message("test.nested", { inner: "T1", list: ["a"] }))).toBe("T1: a"));
});

describe("numbers", () => {
  const cases: readonly [number | null, Unit, string][] = [
    [0.12345, "share", "12.3%"],
    [0, "share", "0.0%"],
    [12345, "count", "12,345"],
    [14.26, "count", "14.3"],
    [-0.8251, "z", "\u22120.83"],
    [-0.0001, "z", "0.00"],
    [0.0004, "probability", "<0.001"],
    [0, "probability", "<0.001"],
    [0.001, "probability", "0.001"],
    [0.9999, "probability", ">0.999"],
    [0.0412, "probability", "0.041"],
    [31, "degrees-of-freedom", "31"],
    [58.24, "degrees-of-freedom", "58.2"],
    [null, "z", "\u2014"],
    [Number.NaN, "share", "\u2014"],
    [Number.POSITIVE_INFINITY, "ratio", "\u2014"],
  ];
  it.each(cases)("%s as %s is %s", (value, unit, written) => {
    expect(words.number(value, unit)).toBe(written);
  });

  it("writes intervals in words, so that a minus sign cannot be read as a dash", () => {
    expect(words.interval({ low: -1.32, high: -1.1 }, "z")).toBe("\u22121.32 to \u22121.10");
    expect(words.interval(null, "z")).toBe("\u2014");
  });

  it("writes a day in words and leaves what is no day alone", () => {
    expect(words.day("2025-03-03")).toBe("3 March 2025");
    expect(words.day("unknown")).toBe("unknown");
  });
});

describe("the pseudo-language", () => {
  it("puts accents on the project's words, inside choices too, and leaves data plain", () => {
    const pseudo = loadWords("xx", english);
    expect(pseudo.text(message("test.plural", { n: 1 }))).toBe("[1 çhîld]");
    expect(pseudo.text(message("test.nested", { inner: "team", list: ["a"] }))).toBe("[team: a]");
  });
});

describe("the words files", () => {
  const files = templateNames("locales", ".json").map((name) => `locales/${name}`);

  it.each(files)("%s holds only messages that can be parsed", (file) => {
    const table = JSON.parse(templateText(file)) as Record<string, string>;
    const fresh = loadWords("en", table);
    const broken = Object.keys(table).filter((id) => {
      // A message that lacks its values is missing as well: give each name that occurs in it one.
      const names = [...(table[id] ?? "").matchAll(/\{(\w[\w-]*)/g)].map((match) => match[1] ?? "");
      fresh.text(message(id, Object.fromEntries(names.map((name) => [name, 1]))));
      return fresh.missing.has(id);
    });
    expect(broken).toEqual([]);
  });

  it.each(files)("%s uses only signs that the embedded face has", (file) => {
    const signs = new Set(Object.values(JSON.parse(templateText(file)) as Record<string, string>).join(""));
    expect([...signs].filter((sign) => sign !== "\n" && !isEmbedded(sign))).toEqual([]);
  });
});
