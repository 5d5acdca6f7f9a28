import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readSurvey } from "../../src/compare/read-summary.js";
import { resultsSchema } from "../../src/results/schema.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { sampleResults, withConsequence } from "../render/sample-results.js";
import { changed, drawAgain, draws, evil, facts, hostileTexts } from "./hostile-json.js";

const text = JSON.stringify(withConsequence(sampleResults));
const refusedOrRead = (raw: unknown): boolean => {
  const read = readSurvey(raw, facts);
  return "refused" in read ? read.refused.id.startsWith("compare.refused.") : typeof read.summary.children === "number";
};

describe("results changed by hand", () => {
  it("at any place are read or refused by the comparison, and by the schema", () => {
    fc.assert(
      fc.property(fc.nat(), fc.constantFrom(...evil), (place, put) => {
        const raw = changed(text, place, put);
        resultsSchema.safeParse(raw);
        expect(refusedOrRead(raw)).toBe(true);
      }),
      { numRuns: 120, seed: 5 },
    );
  });

  const rendered = async (raw: unknown, formats?: string): Promise<number> =>
    (await drawAgain(raw, "report", formats)).code;

  it("in every text draw a page that runs nothing and holds no sign that turns or breaks it", async () => {
    const keys = ["title", "population", "label", "detail", "reference", "url"];
    expect(await rendered(hostileTexts(JSON.parse(text), keys), "html,docx")).toBe(0);
  });

  it("at any place draw a page or are refused", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.nat(),
        fc.nat(evil.length - 1),
        async (place, put) => void (await rendered(changed(text, place, evil[put]))),
      ),
      { numRuns: draws, seed: 6 },
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
    const good = JSON.parse(text);
    const other = {
      ...good,
      comparable: {
        ...good.comparable,
        dataSha256: "b".repeat(64),
        survey: { ...good.comparable.survey, name: "other" },
      },
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
