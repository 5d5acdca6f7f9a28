import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readSurvey, type SurveyFacts } from "../../src/compare/read-summary.js";
import { resultsSchema } from "../../src/results/schema.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { sampleResults, withConsequence } from "../render/sample-results.js";
import { filesIn, reachesOut } from "../whole/program.js";
import { xmlIn } from "./xml-in.js";

const text = JSON.stringify(withConsequence(sampleResults));
const facts: SurveyFacts = {
  file: "a.json",
  sha256: "0".repeat(64),
  place: null,
  round: null,
  group: null,
  population: null,
  clustersRevisited: false,
};

/** What may stand in no page and no document. */
const unreadable = /(?![\t\n\r])[\p{Cc}\p{Cs}\u202A-\u202E\uFFFE\uFFFF]/u;

/** A message with others within it. */
function nested(depth: number): unknown {
  let inner: unknown = "x";
  for (let i = 0; i < depth; i++) inner = { id: "x", values: { a: inner } };
  return inner;
}

const evil: readonly unknown[] = [
  ...[null, true, 0, -1, 1e308, -1e308, 5e-324, 2 ** 53, "", [], {}, [[]]],
  ...[
    "<script>alert(1)</script>",
    '"><img src=//x onerror=alert(1)>',
    "</style>",
    "url(http://x)",
    "../../evil",
    "=cmd()",
  ],
  ...[
    "__proto__",
    "constructor",
    "a\u0000b",
    "\u202Eevil",
    "\ud800",
    "2025-13-45",
    "9999999-01-01",
    "x".repeat(50_000),
  ],
  nested(3),
  nested(50_000),
  { id: "constructor", values: JSON.parse('{"__proto__": "x"}') },
];

/** Puts something in the place of one value, found by counting through all of them. */
function changed(place: number, put: unknown): unknown {
  const raw = JSON.parse(text) as Record<string, unknown>;
  const places: [holder: Record<string, unknown>, key: string][] = [];
  const collect = (holder: Record<string, unknown>): void => {
    for (const [key, value] of Object.entries(holder)) {
      places.push([holder, key]);
      if (typeof value === "object" && value !== null) collect(value as Record<string, unknown>);
    }
  };
  collect(raw);
  const [holder = {}, key = ""] = places[place % places.length] ?? [];
  holder[key] = put;
  return raw;
}

const refusedOrRead = (raw: unknown): boolean => {
  const read = readSurvey(raw, facts);
  return "refused" in read ? read.refused.id.startsWith("compare.refused.") : typeof read.summary.children === "number";
};

describe("results changed by hand", () => {
  it("at any place are read or refused by the comparison, and by the schema", () => {
    const shallow = evil.filter((one) => one !== evil.at(-2));
    fc.assert(
      fc.property(fc.nat(), fc.constantFrom(...shallow), (place, put) => {
        const raw = changed(place, put);
        resultsSchema.safeParse(raw);
        expect(refusedOrRead(raw)).toBe(true);
      }),
      { numRuns: 120, seed: 5 },
    );
  });

  const rendered = async (raw: unknown, formats = "html") => {
    const folder = emptyFolder();
    mkdirSync(join(folder, "in"));
    writeFileSync(join(folder, "in", "results.json"), typeof raw === "string" ? raw : JSON.stringify(raw));
    const ended = await call([
      "render",
      join(folder, "in", "results.json"),
      "--formats",
      formats,
      "--out",
      join(folder, "out"),
    ]);
    expect(ended.err).not.toMatch(/^ {4}at /m);
    expect([0, 2]).toContain(ended.code);
    expect(
      [...filesIn(folder).keys()].filter((name) => !/^(?:in\/results\.json|out\/[a-z0-9-]+\/)/.test(name)),
    ).toEqual([]);
    const [page] = [...filesIn(folder)].filter(([name]) => name.endsWith("report.html"));
    const html = page?.[1].toString("utf8") ?? "";
    // Between tags such a text is only read.
    expect(reachesOut(html.replace(/>[^<>]*</g, "><"))).toEqual([]);
    expect(html.match(/<style[^>]*>[^<]*http[^<]*<\/style>/)).toBeNull();
    expect(html).not.toMatch(unreadable);
    const [document] = [...filesIn(folder)].filter(([name]) => name.endsWith("annex.docx"));
    const parts = [...(document === undefined ? [] : xmlIn(document[1]))];
    expect(parts.length > 4).toBe(formats.includes("docx"));
    for (const [name, xml] of parts) expect([name, unreadable.exec(xml)?.[0]]).toEqual([name, undefined]);
    return ended.code;
  };

  it("in every text draw a page that runs nothing and holds no sign that turns or breaks it", async () => {
    const hostile = (value: unknown, key = ""): unknown => {
      if (Array.isArray(value)) return value.map((item) => hostile(item));
      if (typeof value === "object" && value !== null) {
        return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, hostile(inner, name)]));
      }
      const isFree =
        typeof value === "string" && ["title", "population", "label", "detail", "reference", "url"].includes(key);
      return isFree ? `"><script>alert(1)</script>\u202E\u0000\ud800${value}` : value;
    };
    expect(await rendered(hostile(JSON.parse(text)), "html,docx")).toBe(0);
  });

  it("at any place draw a page or are refused", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.nat(),
        fc.constantFrom(...evil),
        async (place, put) => void (await rendered(changed(place, put))),
      ),
      { numRuns: 8, seed: 6 },
    );
  });

  it("nested 50,000 deep, cut off, of other kinds or with a path for a name are refused", async () => {
    const survey = (name: string) => ({ ...JSON.parse(text), survey: { ...sampleResults.survey, name } });
    const story = { ...JSON.parse(text), story: { ...sampleResults.story, sentence: "MARK" } };
    const deep = `${'{"id":"x","values":{"a":'.repeat(50_000)}"x"${"}}".repeat(50_000)}`;
    const refused = [
      JSON.stringify(story).replace('"MARK"', deep),
      "[".repeat(200_000),
      `${"[".repeat(200_000)}${"]".repeat(200_000)}`,
      text.slice(0, -20),
      "null",
      "",
      ...["../evil", "a/b", "..", "", "A B", "a\u0000b", "con\u202E"].map(survey),
    ];
    for (const raw of refused) expect(await rendered(raw)).toBe(2);
  });

  it("that a comparison is given beside good ones stop nothing", async () => {
    const folder = emptyFolder();
    const good = { ...JSON.parse(text), input: { ...sampleResults.input, sha256: "a".repeat(64) } };
    const other = {
      ...good,
      input: { ...good.input, sha256: "b".repeat(64) },
      survey: { ...good.survey, name: "other" },
    };
    const bad = [
      "[".repeat(100_000),
      "null",
      '{"format":"tareline-results","version":{"a":1}}',
      text.replace('"checks":', '"__proto__":'),
    ];
    const paths = [good, other, ...bad].map((raw, i) => {
      const path = join(folder, `${i}.json`);
      writeFileSync(path, typeof raw === "string" ? raw : JSON.stringify(raw));
      return path;
    });
    const ended = await call(["compare", ...paths, "--json", "-"]);
    expect([ended.code, ended.said.length]).toEqual([0, bad.length]);
    expect(JSON.parse(ended.out).refused.length).toBe(bad.length);
  });
});
