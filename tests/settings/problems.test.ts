import { describe, expect, it } from "vitest";
import { problemKinds } from "../../src/read/problem.js";
import { loadWords } from "../../src/render/words.js";
import { closest } from "../../src/settings/closest.js";
import { groupProblems, inputProblem } from "../../src/settings/problems.js";
import { roles } from "../../src/settings/roles.js";
import { showValue } from "../../src/settings/show-value.js";
import { children, describeProblems } from "../columns/make-table.js";

describe("groups of problems", () => {
  it("hold one kind in one column, show five and count the rest", () => {
    const cells = Array.from({ length: 8 }, (_, i) =>
      inputProblem("not-a-number", "a.csv", { column: "w", row: i + 2, value: `x${i}`, count: i + 1 }),
    );
    const groups = groupProblems([
      ...cells,
      inputProblem("not-a-number", "a.csv", { column: "h", row: 9, value: "y" }),
      inputProblem("empty-file", "b.csv"),
    ]);
    expect(groups.map(({ kind, column, count, more }) => [kind, column, count, more])).toEqual([
      ["not-a-number", "w", 36, 21],
      ["not-a-number", "h", 1, 0],
      ["empty-file", null, 1, 0],
    ]);
    expect(groups[0]?.examples).toHaveLength(5);
    expect(groups[0]?.examples[0]).toEqual({
      id: "input.example.cell",
      values: { file: "a.csv", column: "w", row: 2, value: "x0", count: 1 },
    });
    expect(groups[0]?.title).toMatchObject({ id: "input.problem.not-a-number", values: { count: 36, column: "w" } });
    expect(groups[0]?.remedy.id).toBe("input.remedy.not-a-number");
    expect(groups[2]?.examples).toEqual([]);
  });

  it("clip long values and show control characters", async () => {
    const problems = await describeProblems({
      ...children,
      sex: ["m", "f", `\u001b[31m${"x".repeat(20_000)}`, "f", "m\u202eevil", "f"],
    });
    const [group] = groupProblems(problems);
    const shown = group?.examples.map((example) => String(example.values.value)) ?? [];
    expect(shown[0]).toMatch(/^␛\[31mx{55}…$/);
    expect(shown[1]).toBe("m\\u202eevil");
  });
});

describe("a shown value", () => {
  it.each([
    ["a\nb\tc\0", "a␊b␉c␀"],
    ["x".repeat(60), "x".repeat(60)],
    ["x".repeat(61), `${"x".repeat(60)}…`],
    ["😀".repeat(61), `${"😀".repeat(60)}…`],
    ["\u200bhidden", "\\u200bhidden"],
    ["<script>", "<script>"],
  ])("%j", (text, shown) => expect(showValue(text)).toBe(shown));
});

describe("the closest known word", () => {
  it.each([
    ["titel", "title"],
    ["wieght", "weight"],
    ["Weight", "weight"],
    ["oedma", "oedema"],
    ["zzzzzz", null],
    ["x".repeat(100_000), null],
  ])("to %s", (word, expected) => expect(closest(word, ["title", "weight", "height", "oedema"])).toBe(expected));
});

describe("the words of the input", () => {
  const words = loadWords("en");
  it.each(problemKinds)("are there for %s", (kind) => {
    expect(words.has(`input.problem.${kind}`)).toBe(true);
    expect(words.has(`input.remedy.${kind}`)).toBe(true);
  });
  it.each(roles)("are there for %s", (role) => expect(words.has(`input.role.${role}`)).toBe(true));
});
