import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/checks/run.js";
import { youngerOlderRatio } from "../../src/checks/younger-older-ratio/index.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeSettings } from "./make-children.js";

const run = (children: Parameters<typeof runCheck>[1], settings = makeSettings()) =>
  runCheck(youngerOlderRatio, children, settings).result;

describe("younger-older-ratio", () => {
  it("counts both sides of 30 months and stands beside the model's ratio", () => {
    const children = cleanSurvey({ seed: 31 });
    const ages = [...children.ageMonths].filter((months) => months >= 6);
    const younger = ages.filter((months) => months < 30).length;
    const [ratio] = run(children).quantities;
    expect(ratio?.value).toBeCloseTo(younger / (ages.length - younger), 12);
    expect(ratio?.chance?.expected).toBeCloseTo(0.845, 3);
    expect(ratio?.interval?.low).toBeLessThan(ratio?.value ?? 0);
  });

  it("finds young children left out, a few and many", () => {
    const few = run(faultySurveys["a few young children left out"]);
    expect([few.reading, few.finding.id]).toEqual(["explain", "checks.younger-older-ratio.finding.explain-older"]);
    expect(run(faultySurveys["young children left out"]).finding.id).toBe(
      "checks.younger-older-ratio.finding.doubt-older",
    );
    expect(run(faultySurveys["only young children"]).finding.id).toBe("checks.younger-older-ratio.finding.one-side");
  });

  it("cannot tell where the survey does not cover 6-59 months", () => {
    const result = run(cleanSurvey({ seed: 32 }), makeSettings({ ageRange: { from: 0, to: 23 } }));
    expect([result.reading, result.reason?.id]).toEqual(["unknown", "checks.younger-older-ratio.cannot-tell.range"]);
    expect(run(cleanSurvey({ seed: 32 }), makeSettings({ ageRange: { from: 6, to: 59 } })).reading).toBe("expected");
  });
});
