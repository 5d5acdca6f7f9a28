import { describe, expect, it } from "vitest";
import { ageGroups } from "../../src/checks/age-groups/index.js";
import { boundsWithin } from "../../src/checks/age-groups/numbers.js";
import { runCheck } from "../../src/checks/run.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";

const flat = { boysPerGirl: 1.05, underFiveMortality: 0, growthOfBirths: 0 };
const run = (children: Parameters<typeof runCheck>[1], settings = makeSettings()) =>
  runCheck(ageGroups, children, settings).result;

describe("age-groups", () => {
  it("keeps to the survey's age range, without slivers", () => {
    expect(boundsWithin(0, 59)).toEqual([0, 6, 12, 24, 36, 48, 60]);
    expect(boundsWithin(6, 59)).toEqual([6, 12, 24, 36, 48, 60]);
    expect(boundsWithin(5, 23)).toEqual([5, 12, 24]);
    expect(boundsWithin(0, 48)).toEqual([0, 6, 12, 24, 36, 49]);
    expect(boundsWithin(24, 30)).toEqual([24, 31]);
    expect(run(cleanSurvey({ seed: 1 }), makeSettings({ ageRange: { from: 24, to: 30 } })).reason?.id).toBe(
      "checks.age-groups.cannot-tell.range",
    );
  });

  it("gives Pearson's chi-square against even ages", () => {
    // 100 children of 0-5 months, 200 of 6-11, 100 in each later year; expected 60, 60, 120 x 4 of 600 to the same shares:
    // (100-70)^2/70 + (200-70)^2/70 + 4 (100-140)^2/140 = 300.
    const bands = [0, 6, 12, 24, 36, 48];
    const counts = [100, 200, 100, 100, 100, 100];
    const ages = counts.flatMap((n, band) => Array.from({ length: n }, (_, i) => (bands[band] as number) + (i % 6)));
    const result = run(makeChildren({ count: 700, ageMonths: ages }), makeSettings({ expectations: flat }));
    const chi = result.quantities.find((quantity) => quantity.id === "age-group-chi-square");
    expect(chi?.value).toBeCloseTo(300, 8);
    // Half the sum of |share - expected|: (30 + 130 + 4 * 40) / 700 / 2.
    expect(result.quantities[0]?.value).toBeCloseTo(320 / 1400, 12);
    expect(result.reading).toBe("doubt");
  });

  it("finds young children left out and names the groups", () => {
    const { reading, finding } = run(faultySurveys["young children left out"]);
    expect([reading, finding.id]).toEqual(["doubt", "checks.age-groups.finding.doubt"]);
    expect(finding.values.least).toMatchObject({ id: "checks.age-groups.band", values: { from: 12, to: 23 } });
  });

  it("draws the expected shares and their band for every team that is read", () => {
    const [chart] = run(cleanSurvey({ seed: 41 })).charts;
    expect(chart?.kind).toBe("category-shares");
    if (chart?.kind !== "category-shares") return;
    expect(chart.panels).toHaveLength(7);
    for (const { bars } of chart.panels) {
      expect(bars.reduce((sum, bar) => sum + bar.expected, 0)).toBeCloseTo(1, 10);
      expect(bars.every((bar) => bar.low < bar.expected && bar.expected < bar.high)).toBe(true);
    }
  });
});
