import { describe, expect, it } from "vitest";
import { linkChecks, readingBy } from "../../src/consequence/link.js";
import { notStated } from "../../src/results/group.js";
import type { CheckResult, RepairResult } from "../../src/results/schema.js";
import { found } from "./example-world.js";

function repair(id: string, checks: readonly string[], shift: number, shiftInErrors: number): RepairResult {
  const label = { id: `label.${id}`, values: {} };
  const outcomes = [{ estimate: "wasting", of: notStated, shift, shiftInErrors }];
  return { id, label, checks: [...checks], team: null, chance: null, outcomes };
}

const linked = (check: CheckResult, repairs: readonly RepairResult[]) =>
  linkChecks([check], { repairs: [...repairs], withoutRepair: [] })[0];

describe("checks and their repairs", () => {
  it("a finding whose repair moves an estimate by a standard error casts doubt", () => {
    const result = linked(found("height-digits"), [repair("digits/height", ["height-digits"], 0.02, 1)]);
    expect(result).toMatchObject({ reading: "doubt", consequence: { id: "consequence.check.moves" } });
  });

  it("between a tenth of one and one it keeps the check's own reading", () => {
    const small = [repair("digits/height", ["height-digits"], -0.012, -0.6)];
    expect(linked(found("height-digits"), small)).toMatchObject({ reading: "explain" });
    expect(linked({ ...found("height-digits"), reading: "doubt" }, small)).toMatchObject({ reading: "doubt" });
  });

  it("one that moves nothing by a tenth needs explaining at most", () => {
    const nothing = [repair("digits/height", ["height-digits"], 0.0003, 0.02)];
    expect(linked({ ...found("height-digits"), reading: "doubt" }, nothing)).toMatchObject({
      reading: "explain",
      consequence: { id: "consequence.check.hardly" },
    });
    const none = { ...repair("digits/arm", ["arm-digits"], 0, 0), outcomes: [] };
    expect(linked({ ...found("arm-digits"), reading: "doubt" }, [none])).toMatchObject({
      reading: "explain",
      consequence: { id: "consequence.check.nothing" },
    });
  });

  it("the largest of several repairs decides, and other checks' repairs do not count", () => {
    const repairs = [
      repair("instrument/T1", ["teams-differ"], -0.02, -1.2),
      repair("instrument/T2", ["teams-differ"], 0.005, 0.3),
    ];
    expect(linked(found("teams-differ"), repairs)).toMatchObject({
      reading: "doubt",
      consequence: { values: { shift: 0.02, direction: "down" } },
    });
    expect(linked(found("height-digits"), repairs)).toEqual(found("height-digits"));
  });

  it("a finding without repair, or of few children, says why and keeps its reading", () => {
    const reason = { id: "repair.none.no-repeats", values: {} };
    const doubt = { ...found("spread"), reading: "doubt" as const };
    const [spread] = linkChecks([doubt], { repairs: [], withoutRepair: [{ check: "spread", reason }] });
    expect(spread).toMatchObject({
      reading: "doubt",
      consequence: { id: "consequence.check.none", values: { reason } },
    });
    const kept = { ...repair("records/repeats", ["duplicate-rows"], 0, 0), outcomes: [], reason };
    expect(linked(found("duplicate-rows"), [kept])).toMatchObject({
      reading: "explain",
      consequence: { values: { reason } },
    });
  });

  it("a check that found nothing keeps its reading whatever moves", () => {
    const fine = { ...found("height-digits"), reading: "expected" as const };
    expect(linked(fine, [repair("digits/height", ["height-digits"], 0.06, 4)])).toEqual(fine);
    expect(readingBy("unknown", 4)).toBe("unknown");
  });
});
