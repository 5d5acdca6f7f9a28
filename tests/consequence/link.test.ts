import { describe, expect, it } from "vitest";
import { linkChecks } from "../../src/consequence/link.js";
import { notStated } from "../../src/results/group.js";
import type { Consequence, ScenarioResult } from "../../src/results/schema.js";
import { found } from "./example-world.js";

function scenario(
  id: string,
  checks: readonly string[],
  shift: number,
  moves: boolean,
  kind: ScenarioResult["kind"] = "estimate",
): ScenarioResult {
  const outcome = {
    estimate: "wasting",
    of: notStated,
    value: 0.1 + shift,
    low: 0.05,
    high: 0.2,
    standardError: 0.02,
    degreesOfFreedom: 29,
    shift,
    class: moves ? "high" : "medium",
    moves,
  };
  return {
    id,
    group: "digits",
    label: { id: `label.${id}`, values: {} },
    kind,
    checks: [...checks],
    outcomes: [outcome],
  };
}

const consequenceOf = (scenarios: readonly ScenarioResult[]): Consequence => ({
  scenarios: [...scenarios],
  tippingPoints: [],
  verdicts: [
    {
      estimate: "wasting",
      scheme: "who-unicef-2019",
      class: "medium",
      total: 1,
      stands: 0,
      movers: [],
    },
  ],
  heading: { id: "a-heading", values: {} },
  paragraphs: [],
  method: [],
  charts: [],
  tables: [],
  sources: [],
});

const linked = (check: ReturnType<typeof found>, scenarios: readonly ScenarioResult[]) =>
  linkChecks([check], consequenceOf(scenarios))[0];

describe("checks and their scenarios", () => {
  it("a check whose scenario moves a class casts doubt", () => {
    const result = linked(found("height-digits"), [scenario("digits/height", ["height-digits"], 0.02, true)]);
    expect(result).toMatchObject({
      reading: "doubt",
      consequence: { id: "consequence.check.moves" },
    });
  });

  it("a check whose scenario moves no class keeps its reading and says so", () => {
    const result = linked(found("height-digits"), [scenario("digits/height", ["height-digits"], 0.002, false)]);
    expect(result).toMatchObject({
      reading: "explain",
      consequence: { id: "consequence.check.stands" },
    });
    const hardly = linked(found("height-digits"), [scenario("digits/height", ["height-digits"], -0.0003, false)]);
    expect(hardly).toMatchObject({ reading: "explain", consequence: { id: "consequence.check.hardly" } });
    const nothing = linked(found("height-digits"), [scenario("digits/height", ["height-digits"], 0, false)]);
    expect(nothing).toMatchObject({
      reading: "explain",
      consequence: { id: "consequence.check.nothing" },
    });
  });

  it("contested lines, other checks' scenarios and other teams do not count", () => {
    const contested = scenario("spread/normal", ["spread"], -0.06, true, "sensitivity");
    expect(linked(found("spread"), [contested])?.consequence).toBeUndefined();
    const others = [
      scenario("digits/weight", ["weight-digits"], 0.06, true),
      scenario("leave-out-team/T2", ["height-digits"], 0.06, true),
    ];
    const named = found("height-digits", [{ by: "team", label: "T4" }]);
    expect(linked(named, others)).toMatchObject({ reading: "explain" });
    const own = [...others, scenario("leave-out-team/T4", ["height-digits"], 0.06, true)];
    expect(linked(named, own)).toMatchObject({ reading: "doubt" });
  });

  it("a check that found nothing keeps its reading whatever moves", () => {
    const fine = { ...found("height-digits"), reading: "expected" as const };
    expect(linked(fine, [scenario("digits/height", ["height-digits"], 0.06, true)])).toEqual(fine);
  });
});
