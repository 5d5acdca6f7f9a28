import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { checks } from "../../src/checks/index.js";
import { loadInput } from "../../src/cli/input.js";
import { renderHtml } from "../../src/render/html.js";
import { followedUpBy, followUpView } from "../../src/render/view/follow-up.js";
import { loadWords } from "../../src/render/words.js";
import { buildReport } from "../../src/report.js";
import { severity } from "../../src/results/reading.js";
import type { Results } from "../../src/results/schema.js";

const languages = ["en", "fr", "es", "pt", "ar"] as const;
const words = loadWords("en");
let results: Results;

beforeAll(async () => {
  const path = fileURLToPath(new URL("../../sample-input/quillmar.yaml", import.meta.url));
  results = buildReport({ ...(await loadInput(path)), date: null, version: "1.0.0" }).results;
});

describe("what to follow up", () => {
  it("knows of every check what to do and who usually does it, in a line of every language", () => {
    for (const { id } of checks) {
      expect(followedUpBy[id], id).toBeDefined();
      for (const language of languages) {
        const text = loadWords(language).text({ id: `follow-up.${id}`, values: {} });
        expect(text, `${language} ${id}`).not.toContain("[[");
        expect(text.length, `${language} ${id}: ${text}`).toBeLessThanOrEqual(75);
      }
    }
    expect(Object.keys(followedUpBy).filter((id) => !checks.some((check) => check.id === id))).toEqual([]);
  });

  it("is one line a finding, the most serious first, each with a link to its check", async () => {
    const { table } = followUpView(results, words);
    const found = results.checks.filter(({ reading, rowsToCheck }) => severity[reading] > 1 || rowsToCheck > 0);
    expect(found.length).toBeGreaterThan(2);
    expect(table?.rows.map(({ head }) => head.href).sort()).toEqual(found.map(({ id }) => `#${id}`).sort());
    const order = table?.rows.map(({ head }) => {
      const reading = results.checks.find(({ id }) => head.href === `#${id}`)?.reading ?? "expected";
      return severity[reading];
    });
    expect(order).toEqual(order?.toSorted((a, b) => b - a));
    const html = await renderHtml(results, words);
    const section = /<section id="follow-up"[\s\S]*?<\/section>/.exec(html)?.[0] ?? "";
    for (const { id } of found) expect(section).toContain(`<a href="#${id}">`);
    for (const check of found) for (const action of check.actions) expect(section).not.toContain(words.text(action));
  });

  it("lists entries of the file where a check that found nothing unusual has some, and says where they stand", () => {
    const quiet = results.checks.map((check, at) => ({
      ...check,
      reading: "expected" as const,
      rowsToCheck: at === 3 ? 5 : 0,
    }));
    const { table } = followUpView({ ...results, checks: quiet }, words);
    expect(table?.rows.map(({ head }) => head.href)).toEqual([`#${quiet[3]?.id}`]);
    expect(table?.rows[0]?.cells.map(({ text }) => text)).toContain("5");
    expect(table?.notes.join(" ")).toContain("rows-to-check.csv");
    const nothing = quiet.map((check) => ({ ...check, rowsToCheck: 0 }));
    expect(followUpView({ ...results, checks: nothing }, words).table).toBeNull();
  });
});
