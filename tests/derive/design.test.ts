import { describe, expect, it } from "vitest";
import { derive } from "../../src/derive/derive.js";
import { designOf } from "../../src/derive/design.js";
import { estimateProportion } from "../../src/stats/design/proportion.js";
import { designShape } from "../../src/stats/design/survey-design.js";
import { type Row, settings, surveyOf } from "./fixture.js";

const design = (rows: readonly Row[], clustersInPopulation: Readonly<Record<string, number>> | null = null) =>
  designOf(derive(surveyOf(rows)).children, { ...settings, clustersInPopulation });

describe("the sampling design of the children", () => {
  it("is a simple random sample without clusters, strata and weights", () => {
    const plain = design([{}, {}, {}]);
    expect([...plain.cluster]).toEqual([0, 1, 2]);
    expect([...plain.stratum]).toEqual([0, 0, 0]);
    expect([...plain.weight]).toEqual([1, 1, 1]);
    expect([plain.clusterCount, plain.stratumCount, plain.clustersInPopulation]).toEqual([3, 1, null]);
  });

  it("nests clusters in strata: one label in two strata is two clusters", () => {
    const nested = design([
      { cluster: "1", stratum: "north" },
      { cluster: "1", stratum: "south" },
      { cluster: "2", stratum: "north" },
      { cluster: "1", stratum: "north" },
    ]);
    expect([nested.clusterCount, nested.stratumCount]).toEqual([3, 2]);
    expect(nested.cluster[0]).toBe(nested.cluster[3]);
    expect(new Set([nested.cluster[0], nested.cluster[1], nested.cluster[2]]).size).toBe(3);
    expect([...designShape(nested).clustersInStratum]).toEqual([2, 1]);
  });

  it("puts children without a cluster into one cluster a stratum", () => {
    const gaps = design([
      { cluster: "1", stratum: "north" },
      { stratum: "north" },
      { stratum: "north" },
      { stratum: "south" },
    ]);
    expect(gaps.clusterCount).toBe(3);
    expect(gaps.cluster[1]).toBe(gaps.cluster[2]);
    expect(gaps.cluster[1]).not.toBe(gaps.cluster[3]);
    expect([...gaps.weight]).toEqual([1, 1, 1, 1]);
  });

  it("takes a missing stratum from the rest of the cluster, where that is plain", () => {
    const rows: Row[] = [
      { cluster: "1", stratum: "north" },
      { cluster: "1" },
      { cluster: "2", stratum: "south" },
      { cluster: "3", stratum: "north" },
      { cluster: "3", stratum: "south" },
      { cluster: "3" },
    ];
    const inferred = design(rows);
    expect([...inferred.stratum]).toEqual([0, 0, 1, 0, 1, 2]);
    expect(inferred.cluster[0]).toBe(inferred.cluster[1]);
  });

  it("has no stratum that lost all its children to the age range", () => {
    const old: Row = { interviewDay: 9000, birthDay: 0, cluster: "9", stratum: "gone" };
    const left = design([old, { cluster: "1", stratum: "north" }, { cluster: "2", stratum: "north" }]);
    expect([left.stratumCount, left.clusterCount]).toEqual([1, 2]);
  });

  it("keeps weights, and a missing or negative one counts nowhere", () => {
    const weighted = design([{ samplingWeight: 2.5 }, {}, { samplingWeight: -1 }, { samplingWeight: 1 }]);
    expect([...weighted.weight]).toEqual([2.5, 0, 0, 1]);
  });

  it("carries the population's clusters by stratum label", () => {
    const rows: Row[] = ["1", "2"].flatMap((cluster) => ["south", "north"].map((stratum) => ({ cluster, stratum })));
    expect([...(design(rows, { north: 40, elsewhere: 9 }).clustersInPopulation ?? [])]).toEqual([
      Number.POSITIVE_INFINITY,
      40,
    ]);
    const single: Row[] = [{ cluster: "1" }, { cluster: "2" }];
    expect([...(design(single, { all: 2 }).clustersInPopulation ?? [])]).toEqual([2]);
    expect([...(design([...single, {}], { all: 2 }).clustersInPopulation ?? [])]).toEqual([3]);
    expect([...(design(single, { one: 9, other: 9 }).clustersInPopulation ?? [])]).toEqual([Number.POSITIVE_INFINITY]);
  });

  it("gives the worked two-stratum example its estimate and standard error", () => {
    // A worked fixture of two strata with four clusters each (size/cases), weights 1 and 2.5: computed, and cross-checked
    // by a delete-one-cluster jackknife; not published. p = 0.2359155, SE 0.0520964, 6 degrees of freedom.
    const strata = { A: ["10/2", "12/1", "9/3", "11/0"], B: ["10/3", "8/1", "12/5", "10/2"] };
    const rows: Row[] = [];
    const isCase: number[] = [];
    for (const [stratum, clusters] of Object.entries(strata)) {
      clusters.forEach((text, cluster) => {
        const [size = 0, cases = 0] = text.split("/").map(Number);
        for (let child = 0; child < size; child++) {
          rows.push({ stratum, cluster: String(cluster + 1), samplingWeight: stratum === "A" ? 1 : 2.5 });
          isCase.push(child < cases ? 1 : 0);
        }
      });
    }
    const estimate = estimateProportion(design(rows), Uint8Array.from(isCase), new Uint8Array(rows.length).fill(1));
    expect(estimate.estimate).toBeCloseTo(0.2359155, 7);
    expect(estimate.standardError).toBeCloseTo(0.0520964, 7);
    expect(estimate.degreesOfFreedom).toBe(6);
  });
});

describe("weights from the children of each stratum", () => {
  const strata = ["E", "H", "M"] as const;
  // The stratified sample of Californian schools that comes with R's survey package: 4421, 755 and 1018 schools by stratum, of
  // which 100, 50 and 50 were drawn; its own weights are 44.21, 15.10 and 20.36.
  const population = { E: 4421, H: 755, M: 1018 };
  const rows = strata.flatMap((stratum) =>
    Array.from({ length: stratum === "E" ? 100 : 50 }, (): Row => ({ stratum })),
  );
  const weights = (given: readonly Row[]) =>
    derive(surveyOf(given, { childrenInPopulation: population })).children.samplingWeight ?? new Float64Array();

  it("are those of the published sample, scaled to average 1", () => {
    const made = weights(rows);
    const scale = 6194 / 200;
    expect([made[0], made[100], made[150]].map((weight) => (weight ?? 0) * scale)).toEqual([
      expect.closeTo(44.21, 10),
      expect.closeTo(15.1, 10),
      expect.closeTo(20.36, 10),
    ]);
    expect(made.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(200, 9);
  });

  it("leave weights of the data alone, and give none to a child whose stratum cannot be told", () => {
    expect([...weights(rows.map((row) => ({ ...row, samplingWeight: 2 })))].every((weight) => weight === 2)).toBe(true);
    expect(weights([...rows, {}]).at(-1)).toBeNaN();
    expect(derive(surveyOf(rows)).children.samplingWeight).toBeNull();
  });
});
