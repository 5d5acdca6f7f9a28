import { describe, expect, it } from "vitest";
import { implausibleValues } from "../../src/checks/implausible-values/index.js";
import { runCheck } from "../../src/checks/run.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";

const runWith = (children: Parameters<typeof runCheck>[1]) => runCheck(implausibleValues, children, makeSettings());
const of = (result: ReturnType<typeof runWith>["result"], id: string) =>
  result.quantities.find((quantity) => quantity.id === id);

describe("implausible-values", () => {
  it("counts outside the limits, with an exact interval and what chance gives", () => {
    const children = makeChildren({
      count: 263,
      z: { "weight-for-height": (i) => (i < 81 ? -5.5 : i % 2 === 0 ? 1 : -1) },
    });
    const outside = of(runWith(children).result, "outside-fixed-weight-for-height");
    expect(outside?.value).toBeCloseTo(81 / 263, 12);
    // Clopper-Pearson for 81 of 263: 0.2527 to 0.3676 (Newcombe 1998, table I, from memory; recomputed).
    expect(outside?.interval?.low).toBeCloseTo(0.2527, 4);
    expect(outside?.interval?.high).toBeCloseTo(0.3676, 4);
    // Around a mean of 0 (91 each of 1 and -1): 2 * P(Z > 5) = 5.733e-7.
    expect(outside?.chance?.expected).toBeCloseTo(5.733e-7, 9);
    expect(of(runWith(children).result, "outside-around-mean-weight-for-height")?.chance?.expected).toBeCloseTo(
      0.0027,
      4,
    );
  });

  it("keeps a score exactly on a limit, and lists the rows outside", () => {
    const children = makeChildren({ count: 60, z: { "height-for-age": (i) => (i === 3 ? -6 : i === 5 ? -6.5 : 0) } });
    const { result, rows } = runWith(children);
    expect(rows.map(({ sheetRow, columns }) => [sheetRow, columns])).toEqual([[7, ["height_cm"]]]);
    expect(rows[0]?.message.values.z).toBe(-6.5);
    expect(result.rowsToCheck).toBe(1);
    // One child alone, although 1 in 60 is above 1 in 100.
    expect(result.reading).toBe("expected");
  });

  it("lists a child once, whatever the number of its indices, with every column concerned", () => {
    const children = makeChildren({
      count: 60,
      z: { "height-for-age": (i) => (i === 5 ? 6.5 : 0), "weight-for-height": (i) => (i === 5 || i === 8 ? -5.5 : 0) },
    });
    const { result, rows } = runWith(children);
    expect(rows.map(({ sheetRow, columns, byAge }) => [sheetRow, columns, byAge])).toEqual([
      [7, ["weight_kg", "height_cm"], true],
      [10, ["weight_kg", "height_cm"], false],
    ]);
    expect(rows[0]?.message).toMatchObject({ id: "checks.implausible-values.row.several" });
    expect(rows[0]?.message.values.all).toHaveLength(2);
    expect(result.rowsToCheck).toBe(2);
  });

  it("finds one team and the whole survey", () => {
    const team = runWith(faultySurveys["implausible heights in one team"]).result;
    expect(team.groups.filter((group) => group.reading !== "expected").map((group) => group.label)).toEqual(["T5"]);
    const survey = runWith(faultySurveys["implausible heights"]).result;
    expect([survey.reading, survey.finding.values.index]).toEqual([
      "doubt",
      { id: "index.height-for-age", values: {} },
    ]);
  });

  it("does not blame a team of 30 for one slip", () => {
    const children = makeChildren({
      count: 300,
      team: (i) => `t${Math.floor(i / 30)}`,
      z: { "height-for-age": (i) => (i === 100 ? 7 : -1) },
    });
    expect(runWith(children).result.groups.every((group) => group.reading === "expected")).toBe(true);
  });
});
