import { describe, expect, it } from "vitest";
import { figureFiles } from "../../src/render/figure-files.js";
import { pageView } from "../../src/render/view/page.js";
import { loadWords } from "../../src/render/words.js";
import { textsIn } from "./drawn.js";
import { sampleResults, withConsequence } from "./sample-results.js";

const results = withConsequence(sampleResults);

describe("the figures of a report as files", () => {
  it("are a drawing, pixels and a specification each, with the title of the figure", async () => {
    const words = loadWords("en");
    const files = await figureFiles(pageView(results, words), words);
    const names = files.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    const drawings = names.filter((name) => name.endsWith(".svg"));
    expect(drawings.length).toBeGreaterThan(5);
    for (const chart of [...results.checks.flatMap((check) => check.charts), ...(results.consequence?.charts ?? [])]) {
      const own = files.filter(({ name }) => new RegExp(`^figures/${chart.id}(-\\d+)?\\.`).test(name));
      expect(own.length % 3, chart.id).toBe(0);
      expect(own.length, chart.id).toBeGreaterThan(0);
      const [svg, png, spec] = own.map(({ content }) => content);
      expect(textsIn(String(svg))).toContain(words.text(chart.title));
      expect(String(svg)).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
      expect(
        Buffer.from(png as Uint8Array)
          .subarray(1, 4)
          .toString(),
      ).toBe("PNG");
      expect(JSON.parse(String(spec))).toMatchObject({ title: { text: [words.text(chart.title)] } });
    }
  }, 60_000);

  it("are in the language of the report", async () => {
    const words = loadWords("pt");
    const files = await figureFiles({ of: pageView({ ...results, checks: results.checks.slice(0, 1) }, words) }, words);
    const svgs = files.filter(({ name }) => name.endsWith(".svg")).map(({ content }) => textsIn(String(content)));
    const title = results.checks[0]?.charts[0]?.title;
    expect(title).toBeDefined();
    expect(svgs.flat()).toContain(title === undefined ? "" : words.text(title));
  }, 60_000);
});
