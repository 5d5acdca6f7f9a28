import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checks } from "../../src/checks/index.js";
import { exampleResults, explained } from "../../src/cli/explain-command.js";
import { loadWords } from "../../src/render/words.js";
import { checkPages } from "../tools/check-pages.js";
import { call } from "./run-here.js";

const languages = ["en", "fr", "es", "pt", "ar"] as const;

describe("tareline explain", () => {
  it("lists every check by the name it is asked for", async () => {
    const { code, out } = await call(["explain"], { environment: { LANG: "C" } });
    expect(code).toBe(0);
    for (const { id } of checks) expect(out).toMatch(new RegExp(`^  ${id} {2,}\\S`, "m"));
  });

  it("tells of one check: what it finds, how, an example from the invented survey, causes and sources", async () => {
    const { code, out } = await call(["explain", "age-heaping", "--language", "en"]);
    expect(code).toBe(0);
    // The planted fault: ages pulled to whole and half years in Yundeth.
    expect(out).toContain("Yundeth");
    for (const part of ["Ages on whole and half years", "Exact binomial test", "Honest causes", "Sources"]) {
      expect(out).toContain(part);
    }
  });

  it("refuses a name that no check has, and names those there are", async () => {
    const { code, err } = await call(["explain", "age-heeping"], { environment: { LANG: "C" } });
    expect(code).toBe(2);
    expect(err).toContain("age-heeping");
    for (const { id } of checks) expect(err).toContain(id);
  });

  it.each(languages)("has every word it needs (%s)", async (language) => {
    const results = await exampleResults();
    const words = loadWords(language);
    for (const check of checks) {
      const page = explained(check, results, words);
      expect(page, check.id).not.toMatch(/\[\[|undefined|NaN/);
      expect(words.has(`explain.about.${check.id}`), check.id).toBe(true);
    }
    expect([...words.missing]).toEqual([]);
  });
});

describe("docs/checks.md", () => {
  it("is what the program's own words give now (npm run docs writes it)", async () => {
    const page = readFileSync(new URL("../../docs/checks.md", import.meta.url), "utf8");
    expect(page === (await checkPages()), "run npm run docs").toBe(true);
  });
});
