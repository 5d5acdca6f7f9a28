import { describe, expect, it } from "vitest";
import { daysPerMonth } from "../../src/derive/age.js";
import { districts, planClusters, teams } from "../../src/example/place.js";
import { boysPerGirl, cumulativeAge, populationTruth } from "../../src/example/population.js";
import { generateSurvey } from "../../src/example/survey.js";
import { binomialTest } from "../../src/stats/binomial.js";
import { estimateProportion } from "../../src/stats/design/proportion.js";
import { makeDesign } from "../../src/stats/design/survey-design.js";
import { goodnessOfFit } from "../../src/stats/goodness-of-fit.js";
import { momentsOf } from "../../src/stats/moments.js";
import { correlation, known, mean, type ObservedChild, observe } from "./observed.js";

const surveyCount = 60;
const surveys = Array.from({ length: surveyCount }, (_, i) => generateSurvey({ seed: 1000 + i }));
const observed = surveys.map(observe);
const truth = populationTruth();

function prevalence(children: readonly ObservedChild[], score: (child: ObservedChild) => number) {
  const z = children.map(score);
  const design = makeDesign({
    count: children.length,
    cluster: children.map((child) => child.record.cluster),
    stratum: children.map((child) => child.truth.cluster.district),
    weight: children.map((child) => child.record.samplingWeight),
  });
  const isCase = Uint8Array.from(z, (value) => (value < -2 ? 1 : 0));
  return estimateProportion(
    design,
    isCase,
    Uint8Array.from(z, (value) => (Number.isNaN(value) ? 0 : 1)),
  );
}

const wasting = observed.map((children) => prevalence(children, (child) => child.weightForHeight));
const stunting = observed.map((children) => prevalence(children, (child) => child.heightForAge));

/** Mean of as many surveys and the standard error of that mean, from how far the surveys lie apart. */
function over(values: readonly number[]): { mean: number; standardError: number } {
  const moments = momentsOf(values);
  return { mean: moments.mean, standardError: moments.standardDeviation / Math.sqrt(values.length) };
}

describe("the plan of the fieldwork", () => {
  it("sends every team to every district equally often, and every district sees every part of the calendar", () => {
    const clusters = planClusters(36);
    for (const [team] of teams.entries()) {
      for (const [district] of districts.entries()) {
        expect(clusters.filter((c) => c.team === team && c.district === district)).toHaveLength(2);
      }
      const days = clusters.filter((c) => c.team === team).flatMap((c) => [c.firstDay, c.lastDay]);
      expect(days).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    }
    for (const count of [36, 297, 300, 4000]) {
      expect(new Set(planClusters(count).map((c) => c.number)).size).toBe(count);
    }
    expect(clusters.map((c) => c.number).sort((a, b) => a - b)[0]).toBe(101);
  });
});

describe("one survey", () => {
  it("has about the size asked for, in 36 clusters, six teams and twelve days", () => {
    for (const survey of surveys) {
      expect(Math.abs(survey.records.length - 900)).toBeLessThan(75);
      expect(new Set(survey.records.map((r) => r.cluster)).size).toBe(36);
      expect(new Set(survey.records.map((r) => r.team)).size).toBe(6);
      expect(new Set(survey.records.map((r) => r.day)).size).toBe(12);
    }
    const small = generateSurvey({ seed: 1, size: 300, clusters: 30 });
    expect(Math.abs(small.records.length - 300)).toBeLessThan(40);
    expect(new Set(small.records.map((r) => r.cluster)).size).toBe(30);
  });

  it("refuses what it cannot make", () => {
    expect(() => generateSurvey({ seed: 1, clusters: 5 })).toThrow(RangeError);
    expect(() => generateSurvey({ seed: 1, size: 40 })).toThrow(RangeError);
  });

  it("has brothers and sisters ten months or more apart", () => {
    for (const survey of surveys.slice(0, 10)) {
      const houses = new Map<string, number[]>();
      for (const { cluster, house, ageDays } of survey.children) {
        const key = `${cluster.number}/${house}`;
        houses.set(
          key,
          [...(houses.get(key) ?? []), ageDays].sort((a, b) => a - b),
        );
      }
      expect([...houses.values()].some((ages) => ages.length > 1)).toBe(true);
      for (const ages of houses.values()) {
        for (const [i, age] of ages.slice(1).entries()) expect(age - (ages[i] as number)).toBeGreaterThanOrEqual(300);
      }
    }
  });
});

describe("the truth can be found again", () => {
  it("wasting, stunting and mean z-scores come out near the population's own", () => {
    // Honest errors of measurement and of recalled ages widen the spread a little: prevalences come out up to half a
    // point above the truth, means within 0.02.
    const wasted = over(wasting.map((p) => p.estimate));
    const stunted = over(stunting.map((p) => p.estimate));
    expect(wasted.mean - truth.wasting).toBeGreaterThan(-3 * wasted.standardError);
    expect(wasted.mean - truth.wasting).toBeLessThan(0.005 + 3 * wasted.standardError);
    expect(stunted.mean - truth.stunting).toBeGreaterThan(-3 * stunted.standardError);
    expect(stunted.mean - truth.stunting).toBeLessThan(0.005 + 3 * stunted.standardError);
    const weight = over(observed.map((c) => mean(known(c.map((child) => child.weightForHeight)))));
    const height = over(observed.map((c) => mean(known(c.map((child) => child.heightForAge)))));
    expect(Math.abs(weight.mean - truth.meanWeightForHeight)).toBeLessThan(0.02 + 3 * weight.standardError);
    expect(Math.abs(height.mean - truth.meanHeightForAge)).toBeLessThan(0.02 + 3 * height.standardError);
  });

  it("the interval of about 95 in 100 surveys holds the true prevalence", () => {
    for (const [estimates, value] of [
      [wasting, truth.wasting],
      [stunting, truth.stunting],
    ] as const) {
      // t with 33 degrees of freedom at 97.5 %: 2.035.
      const held = estimates.filter((p) => Math.abs(p.estimate - value) < 2.035 * p.standardError).length;
      expect(binomialTest(held, surveyCount, 0.95)).toBeGreaterThan(0.001);
    }
  });

  it("wasting is of 9 to 12 %, stunting near 30 %", () => {
    expect(truth.wasting).toBeGreaterThan(0.09);
    expect(truth.wasting).toBeLessThan(0.12);
    expect(truth.stunting).toBeGreaterThan(0.28);
    expect(truth.stunting).toBeLessThan(0.32);
  });

  it("the design effects of wasting and stunting average between 1.3 and 1.6", () => {
    for (const estimates of [wasting, stunting]) {
      const effect = over(estimates.map((p) => p.designEffect)).mean;
      expect(effect).toBeGreaterThan(1.3);
      expect(effect).toBeLessThan(1.6);
    }
  });

  it("each child's z-scores follow from its true ones with small errors", () => {
    const children = observed.flat().filter((child) => !Number.isNaN(child.record.birthDay));
    const errors = (index: "weightForHeight" | "heightForAge" | "armForAge") =>
      momentsOf(children.map((child) => child[index] - child.truth[index]));
    for (const index of ["weightForHeight", "heightForAge", "armForAge"] as const) {
      const { n, mean: bias, standardDeviation } = errors(index);
      expect(n).toBeGreaterThan(30_000);
      expect(Math.abs(bias)).toBeLessThan(0.01);
      expect(standardDeviation).toBeGreaterThan(0.05);
      expect(standardDeviation).toBeLessThan(0.25);
    }
  });

  it("spreads of z-scores are 0.9 to 1.15, and the indices go together as they should", () => {
    for (const children of observed) {
      for (const index of ["weightForHeight", "heightForAge", "armForAge"] as const) {
        const { standardDeviation } = momentsOf(children.map((child) => child[index]));
        expect(standardDeviation).toBeGreaterThan(0.85);
        expect(standardDeviation).toBeLessThan(1.15);
      }
    }
    const all = observed.flat().filter((c) => !Number.isNaN(c.weightForHeight + c.heightForAge + c.armForAge));
    const column = (index: "weightForHeight" | "heightForAge" | "armForAge") => all.map((child) => child[index]);
    expect(Math.abs(correlation(column("weightForHeight"), column("heightForAge")))).toBeLessThan(0.05);
    expect(correlation(column("weightForHeight"), column("armForAge"))).toBeGreaterThan(0.55);
    expect(correlation(column("weightForHeight"), column("armForAge"))).toBeLessThan(0.75);
  });
});

describe("who was measured", () => {
  const children = surveys.flatMap((survey) => survey.children);

  it("boys and girls are drawn as the population has them", () => {
    const boys = children.filter((child) => child.sex === 1).length;
    expect(binomialTest(boys, children.length, boysPerGirl / (1 + boysPerGirl))).toBeGreaterThan(0.001);
  });

  it("completed months of age follow births with growth and mortality", () => {
    const counts = new Float64Array(60);
    const shares = new Float64Array(60);
    const monthOf = (days: number) => Math.floor(days / daysPerMonth);
    for (const child of children) {
      const month = monthOf(child.ageDays);
      counts[month] = (counts[month] as number) + 1;
    }
    cumulativeAge.forEach((share, day) => {
      const month = monthOf(day);
      shares[month] = (shares[month] as number) + share - (cumulativeAge[day - 1] ?? 0);
    });
    expect(shares[0]).toBeGreaterThan(shares[59] as number);
    expect(goodnessOfFit(counts, shares).probability).toBeGreaterThan(0.001);
  });

  it("few values are missing, few visits refused, few children in the other position", () => {
    const records = surveys.flatMap((survey) => survey.records);
    const share = (test: (record: (typeof records)[number]) => boolean) => records.filter(test).length / records.length;
    expect(share((r) => Number.isNaN(r.weight))).toBeGreaterThan(0.01);
    expect(share((r) => Number.isNaN(r.weight))).toBeLessThan(0.02);
    expect(share((r) => Number.isNaN(r.height))).toBeLessThan(0.02);
    expect(share((r) => r.outcome === "refused")).toBeGreaterThan(0.002);
    expect(share((r) => r.outcome === "refused")).toBeLessThan(0.01);
    expect(share((r) => r.oedema === 1)).toBeGreaterThan(0.002);
    expect(share((r) => r.oedema === 1)).toBeLessThan(0.01);
    expect(share((r) => !Number.isNaN(r.birthDay))).toBeGreaterThan(0.85);
    const placed = observed.flat().filter((child) => child.record.position !== 0);
    const other = placed.filter((c) => (c.record.position === 1) !== c.ageDays < 731).length / placed.length;
    expect(other).toBeGreaterThan(0.005);
    expect(other).toBeLessThan(0.03);
  });
});
