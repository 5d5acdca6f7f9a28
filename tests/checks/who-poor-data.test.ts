import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/checks/run.js";
import type { Children } from "../../src/derive/children.js";
import { checkResultSchema } from "../../src/results/schema.js";
import { sources } from "../../src/results/sources.js";
import { makeChildren, makeSettings } from "./make-children.js";
import { notFinite, whoChecks } from "./who-checks.js";

const gone = () => Number.NaN;
const allMissing = {
  sex: () => 0,
  ageDays: gone,
  ageMonths: gone,
  birthDay: gone,
  interviewDay: gone,
  weight: gone,
  height: gone,
  arm: gone,
  position: () => 0,
  oedema: () => 2,
};
const z = { "weight-for-height": () => 0.5, "height-for-age": () => -1 };

function resultsOf(children: Children) {
  return whoChecks.map((check) => runCheck(check, children, makeSettings()).result);
}

function expectSound(result: ReturnType<typeof resultsOf>[number]) {
  expect(notFinite(result)).toEqual([]);
  expect(checkResultSchema.safeParse(result).error).toBeUndefined();
  expect(result.reason?.id).not.toBe("checks.unknown.failed");
  expect(result.reading === "unknown").toBe(result.reason !== undefined);
}

describe("poor data", () => {
  const cases: readonly (readonly [string, Children])[] = [
    ["no child", makeChildren({ count: 0 })],
    ["one child", makeChildren({ count: 1, cluster: () => "1", team: () => "a", position: () => 1, z })],
    [
      "twenty-four children",
      makeChildren({ count: 24, team: (i) => `t${i % 2}`, position: () => 1, weight: (i) => 5 + i, z }),
    ],
    [
      "all values missing, few children",
      makeChildren({ count: 20, ...allMissing, cluster: () => null, team: () => null }),
    ],
  ];
  it.each(cases)("reads unknown with a reason: %s", (_, children) => {
    for (const result of resultsOf(children)) {
      expectSound(result);
      // Repeated rows can be told among two dozen children: there are no repeats to be found in them.
      if (result.id === "duplicate-rows" && children.count === 24) expect(result.quantities[0]?.value).toBe(0);
      else expect([result.id, result.reading]).toEqual([result.id, "unknown"]);
    }
  });

  it("finds that everything is missing, and reads nothing else", () => {
    const children = makeChildren({ count: 60, ...allMissing, cluster: () => null, team: () => null });
    for (const result of resultsOf(children)) {
      expectSound(result);
      expect([result.id, result.reading]).toEqual([result.id, result.id === "missing-values" ? "doubt" : "unknown"]);
    }
  });

  it("never reads identical children as expected where identity is the finding", () => {
    const children = makeChildren({
      count: 100,
      sex: () => 1,
      ageDays: () => 731,
      weight: () => 10,
      height: () => 80,
      arm: () => 140,
      position: () => 1,
      cluster: () => "1",
      team: (i) => (i % 2 === 0 ? "a" : "b"),
      z,
    });
    const readings = Object.fromEntries(resultsOf(children).map((result) => [result.id, result.reading]));
    resultsOf(children).forEach(expectSound);
    expect(readings).toMatchObject({
      "duplicate-rows": "doubt",
      "sex-balance": "doubt",
      "age-groups": "doubt",
      "younger-older-ratio": "doubt",
      "age-heaping": "doubt",
      "measuring-position": "doubt",
    });
  });

  it("never throws or gives a number that is none, whatever the children", () => {
    const child = fc.record({
      sex: fc.constantFrom(0, 1, 2),
      age: fc.oneof(fc.constant(Number.NaN), fc.integer({ min: 0, max: 1825 })),
      weight: fc.oneof(fc.constant(Number.NaN), fc.double({ min: 2, max: 25, noNaN: true })),
      height: fc.oneof(fc.constant(Number.NaN), fc.double({ min: 45, max: 120, noNaN: true })),
      arm: fc.oneof(fc.constant(Number.NaN), fc.integer({ min: 90, max: 200 })),
      position: fc.constantFrom(0, 1, 2),
      z: fc.oneof(fc.constant(Number.NaN), fc.double({ min: -9, max: 9, noNaN: true })),
      team: fc.constantFrom(null, "a", "b", "c"),
      cluster: fc.constantFrom(null, "1", "2", "3", "4"),
    });
    fc.assert(
      fc.property(fc.array(child, { maxLength: 120 }), fc.boolean(), (rows, clustered) => {
        const at = (key: "sex" | "age" | "weight" | "height" | "arm" | "position" | "z") => (i: number) =>
          rows[i]?.[key] as number;
        const children = makeChildren({
          count: rows.length,
          sex: at("sex"),
          ageDays: at("age"),
          weight: at("weight"),
          height: at("height"),
          arm: at("arm"),
          position: at("position"),
          team: (i) => rows[i]?.team ?? null,
          cluster: clustered ? (i) => rows[i]?.cluster ?? null : null,
          area: (i) => rows[i]?.cluster ?? null,
          z: { "weight-for-height": at("z"), "height-for-age": at("z") },
        });
        resultsOf(children).forEach(expectSound);
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  it("cites only sources that are listed", () => {
    for (const check of whoChecks) for (const id of check.sources) expect([id, sources.has(id)]).toEqual([id, true]);
  });
});
