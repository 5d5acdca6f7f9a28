import { describe, expect, it } from "vitest";
import { clusteredFit } from "../../../src/stats/design/clustered-fit.js";
import { makeDesign } from "../../../src/stats/design/survey-design.js";
import { goodnessOfFit } from "../../../src/stats/goodness-of-fit.js";

const codes = Int32Array.from({ length: 300 }, (_, i) => (i * 7) % 3);
const shares = [0.3, 0.3, 0.4];

describe("goodness of fit with clusters", () => {
  it("is Pearson's test without clusters", () => {
    const fit = clusteredFit(null, codes, shares);
    const plain = goodnessOfFit([100, 100, 100], shares);
    expect(fit.counts).toEqual([100, 100, 100]);
    expect(fit.chiSquare).toBeCloseTo(plain.chiSquare, 12);
    expect(fit.probability).toBeCloseTo(plain.probability, 12);
    expect(fit.designEffect).toBe(1);
  });

  it("divides by the cluster size where all rows of a cluster are alike", () => {
    // Thirty clusters of ten equal rows say as much as thirty rows: a design effect of 10 times C / (C - 1).
    const alike = Int32Array.from({ length: 300 }, (_, i) => Math.floor(i / 10) % 3);
    const design = makeDesign({
      count: 300,
      cluster: Int32Array.from(alike, (_, i) => Math.floor(i / 10)),
      stratum: null,
      weight: null,
    });
    const fit = clusteredFit(design, alike, [1 / 3, 1 / 3, 1 / 3]);
    expect(fit.designEffect).toBeCloseTo((10 * 30) / 29, 10);
    expect(fit.designDegreesOfFreedom).toBe(29);
  });

  it("takes a single cluster as no clusters, and leaves out negative codes", () => {
    const design = makeDesign({ count: 300, cluster: new Int32Array(300), stratum: null, weight: null });
    const some = codes.map((code, i) => (i < 30 ? -1 : code));
    const fit = clusteredFit(design, some, shares);
    expect(fit.n).toBe(270);
    expect(fit.probability).toBe(clusteredFit(null, some, shares).probability);
  });
});
