import { describe, expect, it } from "vitest";
import { missingValues } from "../../src/checks/missing-values/index.js";
import { runCheck } from "../../src/checks/run.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";

const run = (children: Parameters<typeof runCheck>[1]) => runCheck(missingValues, children, makeSettings()).result;
const of = (result: ReturnType<typeof run>, id: string) => result.quantities.find((quantity) => quantity.id === id);

describe("missing-values", () => {
  it("gives each share with a Wilson interval", () => {
    const result = run(makeChildren({ count: 148, weight: (i) => (i < 15 ? Number.NaN : 10) }));
    expect(of(result, "missing-weight")?.value).toBeCloseTo(15 / 148, 12);
    // Wilson for 15 of 148: 0.0624 to 0.1605 (Newcombe 1998, table I, from memory; recomputed).
    expect(of(result, "missing-weight")?.interval?.low).toBeCloseTo(0.0624, 4);
    expect(of(result, "missing-weight")?.interval?.high).toBeCloseTo(0.1605, 4);
    expect(of(result, "complete-for-weight-for-height")?.value).toBeCloseTo(133 / 148, 12);
    expect(of(result, "complete-for-height-for-age")?.value).toBe(1);
    expect(result.finding.id).toBe("checks.missing-values.finding.explain");
  });

  it("asks for an arm circumference from six months on only", () => {
    const result = run(
      makeChildren({ count: 100, ageMonths: (i) => (i < 40 ? 3 : 20), arm: (i) => (i < 40 ? Number.NaN : 140) }),
    );
    expect(of(result, "missing-arm")).toMatchObject({ value: 0, n: 60 });
  });

  it("leaves roles out that the data do not have", () => {
    const result = run(makeChildren({ count: 50 }));
    expect(of(result, "missing-head")).toBeUndefined();
    expect(of(result, "missing-oedema")).toBeUndefined();
  });

  it("shows a missing birth date without reading it where the age is known", () => {
    const result = run(
      makeChildren({
        count: 100,
        birthDay: (i) => (i < 60 ? Number.NaN : 19000),
        ageMonths: () => 20,
        ageDays: () => 609,
      }),
    );
    expect(of(result, "missing-birth-date")?.value).toBe(0.6);
    expect(result.reading).toBe("expected");
  });

  it("finds one team, one measure, and gaps that go with age", () => {
    const team = run(faultySurveys["heights missing in one team"]);
    expect(team.groups.filter((group) => group.reading !== "expected").map((group) => group.label)).toEqual(["T2"]);
    expect(run(faultySurveys["weights missing everywhere"]).finding).toMatchObject({
      id: "checks.missing-values.finding.doubt",
      values: { role: { id: "checks.missing-values.role.weight" } },
    });
    const differing = run(faultySurveys["heights missing among the oldest"]);
    expect(differing.meaning.map((said) => said.id)).toContain("checks.missing-values.meaning.differ");
  });

  it("passes a careful survey", () => {
    expect(run(cleanSurvey({ seed: 71 })).reading).toBe("expected");
  });
});
