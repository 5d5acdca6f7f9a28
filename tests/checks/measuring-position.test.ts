import { describe, expect, it } from "vitest";
import { measuringPosition } from "../../src/checks/measuring-position/index.js";
import { runCheck } from "../../src/checks/run.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";

const run = (children: Parameters<typeof runCheck>[1], settings = makeSettings()) =>
  runCheck(measuringPosition, children, settings).result;
const of = (result: ReturnType<typeof run>, id: string) => result.quantities.find((quantity) => quantity.id === id);

describe("measuring-position", () => {
  it("counts by the rule: 730 days lie, 731 days stand; 86.9 cm lie, 87.0 cm stand", () => {
    const children = makeChildren({
      count: 100,
      ageDays: (i) => (i < 50 ? 730 : 731),
      height: (i) => (i % 2 === 0 ? 86.9 : 87),
      position: (i) => (i < 50 ? 1 : 2),
    });
    expect(of(run(children), "other-position")?.value).toBe(0);
    expect(of(run(children), "other-position-other-rule")?.value).toBe(0.5);
    const byHeight = run(children, makeSettings({ positionRule: "height" }));
    expect(of(byHeight, "other-position")?.value).toBe(0.5);
    expect(byHeight.meaning.map((said) => said.id)).toContain("checks.measuring-position.meaning.other-rule-height");
  });

  it("wants 24.0 months, 730.5 days, standing, as the z-scores do; 23.99 months lying", () => {
    const at = (months: number, position: 1 | 2) =>
      of(
        run(
          makeChildren({
            count: 100,
            ageDays: () => months * 30.4375,
            height: () => 86,
            position: () => position,
          }),
        ),
        "other-position",
      )?.value;
    expect([at(24, 2), at(24, 1), at(23.99, 1), at(23.99, 2)]).toEqual([0, 1, 0, 1]);
  });

  it("counts the heights that were converted", () => {
    const children = makeChildren({
      count: 100,
      ageDays: () => 400,
      height: () => 72,
      position: (i) => (i < 30 ? 2 : 1),
    });
    expect(of(run(children), "height-converted")?.value).toBe(0.3);
    expect(run(children).reading).toBe("doubt");
  });

  it("says when everyone was recorded in one position", () => {
    expect(run(faultySurveys["everyone standing"]).finding.id).toBe("checks.measuring-position.finding.one-position");
  });

  it("finds the team that followed another rule", () => {
    const result = run(faultySurveys["one team measures by height"]);
    expect(result.groups.filter((group) => group.reading !== "expected").map((group) => group.label)).toEqual(["T3"]);
    expect(result.reading).not.toBe("expected");
  });

  it("passes a careful survey", () => {
    expect(run(cleanSurvey({ seed: 61 })).reading).toBe("expected");
  });
});
