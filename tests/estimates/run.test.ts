import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimates/estimate.js";
import { estimates } from "../../src/estimates/index.js";
import { runEstimate } from "../../src/estimates/run.js";
import type { EstimateResult } from "../../src/results/schema.js";
import { type ChildrenGiven, makeChildren, makeSettings } from "../checks/make-children.js";

function named(id: string): Estimate {
  const found = estimates.find((estimate) => estimate.id === id);
  if (found === undefined) throw new Error(`no estimate '${id}'`);
  return found;
}

function run(id: string, given: ChildrenGiven, rule: "fixed" | "around-mean" = "fixed"): EstimateResult {
  const settings = makeSettings({ exclusions: { default: rule, widthAroundMean: 3 } });
  return runEstimate(named(id), makeChildren(given), settings);
}

/** 200 children of ten clusters: every tenth is a case of wasting; two values beyond the fixed limits, one at -4.5. */
const scores = Array.from({ length: 200 }, (_, i): number => (i % 10 === 0 ? -2.5 : i % 2 === 0 ? -0.5 : 0.5));
scores[1] = -5.2;
scores[2] = 5.3;
scores[3] = -4.5;
const survey: ChildrenGiven = {
  count: 200,
  cluster: (i) => String(i % 10 === 0 ? (i / 10) % 10 : i % 10),
  z: { "weight-for-height": scores },
};

describe("one estimate", () => {
  it("counts cases among the children the rule in force keeps, and gives the other rules beside it", () => {
    const result = run("wasting", survey);
    // Twenty at -2.5 and the one at -4.5 among 198.
    expect(result.overall).toMatchObject({ n: 198, clusters: 10 });
    expect(result.overall?.value).toBeCloseTo(21 / 198, 12);
    expect(result.byExclusion.map(({ rule, excluded, cell }) => [rule, excluded, cell.n])).toEqual([
      ["fixed", 2, 198],
      ["around-mean", 3, 197],
      ["none", 0, 200],
    ]);
    expect(result.byExclusion[1]?.cell.value).toBeCloseTo(20 / 197, 12);
    expect(result.byExclusion[2]?.cell.value).toBeCloseTo(22 / 200, 12);
  });

  it("takes the rule of the settings for the printed figure", () => {
    expect(run("wasting", survey, "around-mean").overall?.value).toBeCloseTo(20 / 197, 12);
  });

  it("the mean leaves out what the rule sets aside", () => {
    const kept = scores.filter((z) => z >= -5 && z <= 5);
    const { overall } = run("mean-weight-for-height", survey);
    expect(overall?.n).toBe(198);
    expect(overall?.value).toBeCloseTo(kept.reduce((sum, z) => sum + z, 0) / kept.length, 12);
  });

  it("says what is lacking where no child has the measure, and gives no number", () => {
    for (const id of ["stunting", "mean-height-for-age"]) {
      expect(run(id, survey)).toMatchObject({
        reason: { id: "estimates.lacking.measures" },
        overall: null,
        byExclusion: [],
        subgroups: [],
      });
    }
  });

  it("oedema that was not recorded is lacking, not absent", () => {
    expect(run("oedema", survey).reason?.id).toBe("estimates.lacking.oedema");
    const recorded = run("oedema", { ...survey, oedema: (i) => (i < 2 ? 1 : 0) });
    expect(recorded.reason).toBeUndefined();
    expect(recorded.overall?.value).toBeCloseTo(0.01, 12);
  });
});

describe("groups of one estimate", () => {
  const areas = (sizes: readonly number[]): ((i: number) => string) => {
    const labels = sizes.flatMap((size, area) => Array.from({ length: size }, () => `area ${area + 1}`));
    return (i) => labels[i] ?? "";
  };
  const byArea = (sizes: readonly number[]): EstimateResult["subgroups"][number] | undefined =>
    run("wasting", {
      ...survey,
      area: areas(sizes),
      z: { "weight-for-height": scores.map((z) => Math.max(z, -3)) },
    }).subgroups.find((group) => group.by === "area");
  const states = (sizes: readonly number[]): (readonly [number, string, string | undefined])[] =>
    byArea(sizes)?.cells.map((cell) => [cell.n, cell.status, cell.reason?.id] as const) ?? [];

  it("one withheld group: the smallest of the others is withheld with it", () => {
    // One value lies beyond the fixed limits, in the first area.
    expect(states([101, 60, 20, 19].map((n, i) => (i === 2 ? 0 : i === 1 ? 80 : n)))).toEqual([
      [100, "shown", undefined],
      [80, "withheld", "cell.protects-another"],
      [19, "withheld", "cell.too-few"],
    ]);
  });

  it("two withheld groups protect each other", () => {
    expect(states([101, 60, 20, 19])).toEqual([
      [100, "shown", undefined],
      [60, "shown", undefined],
      [20, "withheld", "cell.too-few"],
      [19, "withheld", "cell.too-few"],
    ]);
  });

  it("of two groups neither is shown when one is too small", () => {
    expect(states([180, 20])).toEqual([
      [179, "withheld", "cell.protects-another"],
      [20, "withheld", "cell.too-few"],
    ]);
  });

  it("withheld groups carry no numbers", () => {
    for (const cell of byArea([101, 60, 20, 19])?.cells ?? []) {
      if (cell.status !== "withheld") continue;
      expect([cell.value, cell.interval, cell.standardError, cell.designEffect]).toEqual([null, null, null, null]);
    }
  });

  it("the test of all groups alike is made over the groups that are large enough, and is a probability", () => {
    const test = byArea([101, 60, 20, 19])?.test;
    expect(test?.probability).toBeGreaterThan(0);
    expect(test?.probability).toBeLessThanOrEqual(1);
    // Two groups remain: one contrast.
    expect(test?.numeratorDf).toBeCloseTo(1, 10);
    expect(byArea([180, 20])?.test).toBeUndefined();
  });

  it("boys and girls add up to the whole", () => {
    const result = run("wasting", survey);
    const sexes = result.subgroups.find((group) => group.by === "sex")?.cells ?? [];
    const cases = sexes.reduce((sum, cell) => sum + (cell.value ?? Number.NaN) * cell.n, 0);
    expect(sexes.reduce((sum, cell) => sum + cell.n, 0)).toBe(result.overall?.n);
    expect(cases).toBeCloseTo((result.overall?.value ?? 0) * (result.overall?.n ?? 0), 9);
  });
});
