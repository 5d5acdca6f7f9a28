import { describe, expect, it } from "vitest";
import { comparisonView } from "../../src/render/view/comparison/page.js";
import { loadWords } from "../../src/render/words.js";
import type { Block, Comparison } from "../../src/results/comparison.js";
import { notStated } from "../../src/results/group.js";
import type { Chart } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";
import { sampleComparison, sampleWords } from "./sample-comparison.js";

const words = loadWords("en", sampleWords);
const say = (text: string) => message("sample.text", { text });

/** A finding with these figures, told after a method that it shares with others. */
function block(id: string, title: string, charts: readonly Chart[]): Block {
  const nothing = { meaning: [], cautions: [], tables: [], sources: [] };
  return {
    id,
    title: say(title),
    finding: say(`${title} rose`),
    charts: [...charts],
    method: [say("As ever.")],
    ...nothing,
  };
}

const intervals: Chart = {
  kind: "intervals",
  id: "some",
  title: say("Scenarios"),
  alternative: say("Scenarios"),
  x: { label: say("Points"), unit: "share" },
  lines: [],
  rows: [{ of: notStated, group: say("All"), label: "one", value: 0.1, low: 0.05, high: 0.2, n: 100 }],
};

/** A comparison with these findings in two of its sections. */
function withBlocks(first: readonly Block[], second: readonly Block[]): Comparison {
  const comparison = sampleComparison(4, 2);
  const [one, other] = comparison.sections;
  if (one === undefined || other === undefined) throw new Error("too few sections");
  return {
    ...comparison,
    sections: [
      { ...one, blocks: [...first] },
      { ...other, blocks: [...second] },
    ],
  };
}

describe("a finding of a comparison", () => {
  it("has its title over it only where it does not begin with it", () => {
    const calm = { ...block("b", "Stunting", []), finding: say("Nothing clear") };
    const [section] = comparisonView(withBlocks([block("a", "Wasting", []), calm], []), words).sections;
    expect(section?.blocks.map(({ name }) => name)).toEqual([null, "Stunting"]);
  });

  it("prints the first of several long figures of one kind; the others are folded, and files named", () => {
    const pictures = [0, 1, 2].map((at) => ({ ...intervals, id: `some-${at}` }));
    const [section] = comparisonView(withBlocks([block("a", "Wasting", pictures)], []), words).sections;
    expect(section?.blocks.map(({ figures, behind }) => [figures.length, behind?.figures.length])).toEqual([[1, 2]]);
    expect(section?.inFiles).toContain("tables/");
    const [alone] = comparisonView(withBlocks([block("a", "Wasting", pictures.slice(0, 1))], []), words).sections;
    expect(alone?.blocks.map(({ figures, behind }) => [figures.length, behind])).toEqual([[1, null]]);
  });

  it("folds its long figure where nothing moves and an earlier one of the paired scenarios is shown", () => {
    const moving = { ...intervals, rows: intervals.rows.map((row) => ({ ...row, moves: true })) };
    const comparison = withBlocks(
      [block("a", "Wasting", [intervals]), block("b", "Stunting", [intervals]), block("c", "Overweight", [moving])],
      [],
    );
    const shown = (id: Comparison["sections"][number]["id"]): number[] | undefined => {
      const sections = comparison.sections.map((section, i) => (i === 0 ? { ...section, id } : section));
      return comparisonView({ ...comparison, sections }, words).sections[0]?.blocks.map(
        ({ figures }) => figures.length,
      );
    };
    expect(shown("paired")).toEqual([1, 0, 1]);
    expect(shown("levels")).toEqual([1, 1, 1]);
  });

  it("leads to where its method is told: by the title in its own section, by section and title elsewhere", () => {
    const both = withBlocks([block("a", "Wasting", []), block("b", "Stunting", [])], [block("c", "Wasting", [])]);
    const [own, other] = comparisonView(both, words).sections;
    expect(own?.blocks[0]?.method).toEqual(["As ever."]);
    expect(own?.blocks[1]?.method.join()).toMatch(/“Wasting”/);
    const name = words.text({ id: `section.compare-${both.sections[0]?.id}`, values: {} });
    expect(other?.blocks[0]?.method.join()).toContain(`“${name}: Wasting”`);
  });
});
