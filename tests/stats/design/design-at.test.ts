import { describe, expect, it } from "vitest";
import { estimateMean } from "../../../src/stats/design/mean.js";
import { estimateProportion } from "../../../src/stats/design/proportion.js";
import { estimateStandardDeviation } from "../../../src/stats/design/standard-deviation.js";
import { designAt, makeDesign } from "../../../src/stats/design/survey-design.js";
import { randomStream } from "../../../src/stats/random.js";

describe("a design seen at some rows", () => {
  const count = 300;
  const random = randomStream(3);
  const values = Float64Array.from({ length: count }, () => random.normal());
  const isCase = Uint8Array.from(values, (value) => (value < -0.8 ? 1 : 0));
  const design = makeDesign({
    count,
    cluster: Int32Array.from({ length: count }, (_, i) => i % 20),
    stratum: Int32Array.from({ length: count }, (_, i) => (i % 20) % 3),
    weight: Float64Array.from({ length: count }, (_, i) => (i % 7 === 0 ? 0 : 1 + (i % 5))),
    clustersInPopulation: [40, 50, 60],
  });

  it.each([
    ["a few rows of every cluster", (i: number) => i % 3 === 1],
    ["two clusters only", (i: number) => i % 20 < 2],
    ["nobody", () => false],
  ] as const)("gives the very numbers of the domain: %s", (_, isIn) => {
    const rows = Int32Array.from([...values.keys()].filter(isIn));
    const domain = Uint8Array.from(values, (_value, i) => (isIn(i) ? 1 : 0));
    const own = designAt(design, rows);
    const every = new Uint8Array(rows.length).fill(1);
    const ownValues = Float64Array.from(rows, (row) => values[row] as number);
    const ownCases = Uint8Array.from(rows, (row) => isCase[row] as number);
    expect(estimateProportion(own, ownCases, every)).toEqual(estimateProportion(design, isCase, domain));
    expect(estimateMean(own, ownValues, every)).toEqual(estimateMean(design, values, domain));
    expect(estimateStandardDeviation(own, ownValues, every)).toEqual(estimateStandardDeviation(design, values, domain));
  });
});
