import { describe, expect, it } from "vitest";
import { withoutBulk } from "../../src/compare/needed-text.js";
import { summaryOf } from "../../src/compare/read-summary.js";
import { computedResults } from "./computed-results.js";

const results = await computedResults({ seed: 73, size: 360, clusters: 18 });
const facts = {
  file: "a.json",
  sha256: "a".repeat(64),
  place: null,
  round: null,
  group: null,
  population: null,
  clustersRevisited: false,
};
const written = (indent: number): string => JSON.stringify(results, null, indent);
const summary = (content: string) => summaryOf(JSON.parse(content), facts);

describe("results without what no comparison needs", () => {
  it("are less than a quarter as long and give the same summary", () => {
    const kept = withoutBulk(written(1));
    expect(kept.length).toBeLessThan(written(1).length / 4);
    expect(summary(kept)).toEqual(summary(written(1)));
    const { checks, estimates } = JSON.parse(kept);
    const [first] = results.checks;
    const emptied = { charts: [], tables: [], meaning: [], causes: [], actions: [], method: [], sources: [] };
    const groups = first?.groups.map((group) => ({ ...group, quantities: [] }));
    expect(checks[0]).toEqual({ ...first, ...emptied, groups });
    expect(estimates.length).toBe(results.estimates.length);
  });

  it("keep the figures of teams that are followed", () => {
    const figures = (content: string): unknown => {
      const { checks } = JSON.parse(content) as typeof results;
      return checks.find(({ id }) => id === "teams-differ")?.groups.map(({ quantities }) => quantities);
    };
    expect(figures(withoutBulk(written(1)))).toEqual(figures(written(1)));
    expect(JSON.stringify(figures(written(1)))).toContain("team-difference-");
  });

  it("written with another indentation come back whole", () => {
    for (const indent of [0, 4]) expect(withoutBulk(written(indent))).toBe(written(indent));
    expect(summary(withoutBulk(written(2)))).toEqual(summary(written(2)));
  });

  it("cut off anywhere stay no JSON", () => {
    const whole = written(1);
    for (let share = 0.05; share < 1; share += 0.07) {
      const cut = withoutBulk(whole.slice(0, Math.floor(whole.length * share)));
      expect(() => JSON.parse(cut), String(share)).toThrow(SyntaxError);
    }
  });
});
