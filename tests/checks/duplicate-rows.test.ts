import { describe, expect, it } from "vitest";
import { duplicateRows } from "../../src/checks/duplicate-rows/index.js";
import { runCheck } from "../../src/checks/run.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";

const runWith = (children: Parameters<typeof runCheck>[1]) => runCheck(duplicateRows, children, makeSettings());
const of = (result: ReturnType<typeof runWith>["result"], id: string) =>
  result.quantities.find((quantity) => quantity.id === id);

describe("duplicate-rows", () => {
  it("finds a few repeats and lists their rows", () => {
    const { result, rows } = runWith(faultySurveys["a few rows twice"]);
    expect(result.reading).toBe("explain");
    expect(of(result, "repeated-rows")?.value).toBe(4);
    expect(of(result, "equal-pairs-within-clusters")?.value).toBe(4);
    expect(rows).toHaveLength(8);
    expect(result.rowsToCheck).toBe(8);
    // Row 9 of the sheet is child 7 (the header is row 1), repeated in the row below.
    expect(rows[0]).toMatchObject({ sheetRow: 9, message: { values: { rows: [10], more: 0 } } });
    expect(JSON.stringify(result)).not.toContain("sheetRow");
  });

  it("doubts a survey with many", () => {
    expect(runWith(faultySurveys["many rows twice"]).result.reading).toBe("doubt");
  });

  it("finds none where one value differs", () => {
    const children = makeChildren({
      count: 2,
      sex: () => 1,
      ageDays: () => 500,
      weight: () => 9,
      height: () => 75,
      arm: (i) => 140 + i,
    });
    expect(of(runWith(children).result, "repeated-rows")?.value).toBe(0);
    expect(runWith(children).result.finding.id).toBe("checks.duplicate-rows.finding.none");
  });

  it("expects about as many pairs as coarse independent data hold", () => {
    // Whole kilograms and tens of centimetres make many equal pairs by chance: over 40 surveys the sum of observed
    // pairs must agree with the sum of expected ones.
    let observed = 0;
    let expected = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const clean = cleanSurvey({ seed, monthsOnly: true });
      const { weight, height, arm } = clean;
      if (weight === null || height === null || arm === null) throw new Error("measures are there");
      const coarse = {
        ...clean,
        weight: { ...weight, values: weight.values.map((value) => Math.round(value * 2) / 2) },
        height: { ...height, values: height.values.map(Math.round) },
        arm: { ...arm, values: arm.values.map((value) => 5 * Math.round(value / 5)) },
      };
      const { result } = runWith(coarse);
      observed += of(result, "equal-pairs")?.value ?? 0;
      expected += of(result, "equal-pairs")?.chance?.expected ?? 0;
      expect(result.reading).not.toBe("doubt");
    }
    expect(observed).toBeGreaterThan(200);
    expect(observed / expected).toBeGreaterThan(0.75);
    expect(observed / expected).toBeLessThan(1.35);
  });

  it("keeps to a time that grows with the rows when all are alike", () => {
    const children = makeChildren({
      count: 20_000,
      sex: () => 1,
      ageDays: () => 500,
      weight: () => 9,
      height: () => 75,
      arm: () => 140,
    });
    const { result, rows } = runWith(children);
    expect(rows).toHaveLength(20_000);
    expect(rows[0]?.message.values.more).toBe(19_994);
    expect(of(result, "repeated-rows")?.value).toBe(19_999);
  });
});
