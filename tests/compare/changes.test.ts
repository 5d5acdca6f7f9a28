import { describe, expect, it } from "vitest";
import { blocksOf, later, place } from "./blocks-of.js";

describe("changes", () => {
  it("one change is told with its interval and verdict", () => {
    const { changes } = blocksOf([place(0, 0.08), place(0, 0.16, { key: "later", ...later })]);
    const [block] = changes;
    expect(block?.finding.id).toBe("compare.change.one.told");
    expect(block?.finding.values.verdict).toMatchObject({ id: "compare.verdict.rounds.rise" });
    // May and October: another season.
    expect(block?.cautions.map(({ id }) => id)).toEqual(["compare.change.caution.notes"]);
    const [chart] = block?.charts ?? [];
    expect(chart?.kind === "rounds" ? chart.panels.map(({ emphasis }) => emphasis) : []).toEqual([true]);
  });

  it("several are counted, and the unclear is not called unchanged", () => {
    const surveys = [0.08, 0.1, 0.1].map((value, i) => place(i, value));
    const after = [0.16, 0.105, 0.03].map((value, i) => place(i, value, { key: `later${i}`, ...later }));
    const [block] = blocksOf([...surveys, ...after]).changes;
    expect(block?.finding.values).toMatchObject({ pairs: 3, rise: 1, fall: 1, unclear: 1, unknown: 0 });
    expect(block?.meaning.map(({ id }) => id)).toContain("compare.change.meaning.unclear");
  });

  it("what is blocked is not drawn, and cannot be told", () => {
    const { changes, differences } = blocksOf([
      place(0, 0.08),
      place(0, 0.16, { key: "later", ...later, definition: { ageFrom: 0 } }),
    ]);
    expect(differences.map(({ verdict }) => verdict)).toEqual(["cannot-tell", "cannot-tell"]);
    expect(changes[0]?.charts).toEqual([]);
    expect(changes[0]?.reading).toBe("unknown");
  });
});
