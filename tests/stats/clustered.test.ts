import { describe, expect, it } from "vitest";
import { blockedComparison } from "../../src/stats/blocked-comparison.js";
import { bootstrapShape } from "../../src/stats/cluster-bootstrap.js";
import { clusteredSlope, nestedVarianceComponents } from "../../src/stats/clustered-slope.js";
import { solve } from "../../src/stats/design/linear-algebra.js";
import { heterogeneityTails } from "../../src/stats/heterogeneity-tails.js";
import { intraclass } from "../../src/stats/intraclass.js";
import { leastSquares } from "../../src/stats/least-squares.js";
import { momentsOf } from "../../src/stats/moments.js";
import { randomStream } from "../../src/stats/random.js";
import { coded, expectClose, knownValues } from "./close.js";

const known = knownValues("statistics.json");

// Anscombe, Graphs in statistical analysis, Am Stat 1973;27:17-21, first data set: fitted line y = 3.0 + 0.500 x,
// residual sum of squares 13.75.
const anscombe = {
  x: Float64Array.of(10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5),
  y: Float64Array.of(8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68),
};

describe("least squares", () => {
  it("gives Anscombe's line", () => {
    const fit = leastSquares([anscombe.x.map(() => 1), anscombe.x], anscombe.y);
    expect(fit.coefficients[0]).toBeCloseTo(3.0001, 4);
    expect(fit.coefficients[1]).toBeCloseTo(0.5001, 4);
    expect(fit.residualSum).toBeCloseTo(13.76, 2);
  });

  it("leaves out a predictor that the others hold already", () => {
    const fit = leastSquares([anscombe.x.map(() => 1), anscombe.x, anscombe.x.map((x) => 2 * x - 3)], anscombe.y);
    expect(fit.rank).toBe(2);
    expect(fit.coefficients[2]).toBe(0);
  });
});

describe("comparison of groups within blocks", () => {
  it.each(["PlantGrowth", "chickwts"])("one block is R's analysis of variance: %s", (name) => {
    const { y, g, anova_F, anova_p, ms_within } = known.groups[name];
    const { codes, labels } = coded(g);
    const one = blockedComparison(
      Float64Array.from(y),
      Float64Array.from(y, () => 1),
      codes,
      labels.length,
      new Int32Array(y.length),
      1,
    );
    expectClose(one.f, anova_F);
    expectClose(one.probability, anova_p);
    expectClose(one.meanSquareWithin, ms_within);
  });

  it("takes out what belongs to the blocks", () => {
    // Two blocks 10 apart; group 1 is 1 above group 0 in both.
    const y = Float64Array.of(0.1, -0.1, 1.1, 0.9, 10.1, 9.9, 11.1, 10.9);
    const groups = Int32Array.of(0, 0, 1, 1, 0, 0, 1, 1);
    const blocks = Int32Array.of(0, 0, 0, 0, 1, 1, 1, 1);
    const found = blockedComparison(
      y,
      y.map(() => 1),
      groups,
      2,
      blocks,
      2,
    );
    expect(found.contrasts[1]?.difference).toBeCloseTo(1, 10);
    // Residual sum of squares 8 * 0.01 on 8 - 3 degrees of freedom.
    expect(found.meanSquareWithin).toBeCloseTo(0.016, 10);
    expect(found.dfWithin).toBe(5);
  });

  it("has no answer where every group has its own block", () => {
    const codes = Int32Array.of(0, 0, 1, 1);
    const found = blockedComparison(Float64Array.of(1, 2, 5, 6), Float64Array.of(1, 1, 1, 1), codes, 2, codes, 2);
    expect(found.dfBetween).toBe(0);
    expect(found.contrasts.every((contrast) => Number.isNaN(contrast.difference))).toBe(true);
  });
});

describe("components of variance and the slope", () => {
  it("Dyestuff: for equal groups the restricted-maximum-likelihood values of lme4", () => {
    const { y, g, var_between, var_within } = known.icc_reml.Dyestuff;
    const { codes, labels } = coded(g);
    const found = nestedVarianceComponents(Float64Array.from(y), codes, new Int32Array(labels.length), 1);
    expectClose(found.between, var_between, 1e-6);
    expectClose(found.within, var_within, 1e-6);
    expect([found.degreesOfFreedom, found.withinDegreesOfFreedom]).toEqual([5, 24]);
  });

  it("without differences between clusters the slope is ordinary least squares", () => {
    const components = {
      within: 1.5,
      between: 0,
      degreesOfFreedom: 5,
      withinDegreesOfFreedom: 20,
      meanSquareBetween: 1.5,
      perCluster: 2,
    };
    const members = anscombe.x.map((_, i) => i);
    const cluster = Int32Array.from(members, (i) => i % 3);
    const found = clusteredSlope(anscombe.y, anscombe.x, cluster, members, components);
    expect(found.slope).toBeCloseTo(0.5001, 4);
    // sum (x - mean)^2 is 110.
    expect(found.standardError).toBeCloseTo(Math.sqrt(1.5 / 110), 10);
  });

  it("degrees of freedom: those between clusters where x differs between clusters only, exactly", () => {
    // Ten clusters of two, x the same in a cluster: the slope's variance is MSB / sum (x - mean)^2, and MSB has 9 degrees of
    // freedom (balanced one-way analysis of variance). The components' covariance makes it so.
    const cluster = Int32Array.from({ length: 20 }, (_, i) => Math.floor(i / 2));
    const x = Float64Array.from(cluster, (code) => code);
    const random = randomStream(4);
    const shift = Array.from({ length: 10 }, () => 0.4 * random.normal());
    const y = Float64Array.from(cluster, (code) => (shift[code] as number) + random.normal());
    const components = nestedVarianceComponents(y, cluster, new Int32Array(10), 1);
    expect(components.between).toBeGreaterThan(0);
    const members = cluster.map((_, i) => i);
    expect(clusteredSlope(y, x, cluster, members, components).degreesOfFreedom).toBeCloseTo(9, 6);
  });

  it("degrees of freedom: those of the simulated variance where clusters differ in size", () => {
    // 2 E(v)^2 / Var(v) over simulated surveys against Satterthwaite's at the true components.
    const sizes = [2, 3, 2, 3, 2, 4, 2, 3, 2, 3, 2, 4, 2, 3, 2, 3];
    const cluster = Int32Array.from(sizes.flatMap((size, code) => Array<number>(size).fill(code)));
    const x = Float64Array.from(cluster, (code) => code);
    const members = cluster.map((_, i) => i);
    const random = randomStream(12);
    const variances: number[] = [];
    for (let run = 0; run < 4000; run++) {
      const shift = sizes.map(() => random.normal());
      const y = Float64Array.from(cluster, (code) => (shift[code] as number) + random.normal());
      const components = nestedVarianceComponents(y, cluster, new Int32Array(sizes.length), 1);
      variances.push(clusteredSlope(y, x, cluster, members, components).standardError ** 2);
    }
    const { mean, standardDeviation } = momentsOf(Float64Array.from(variances));
    const [within, between] = [1, 1];
    const n = cluster.length;
    const perCluster = (n - sizes.reduce((sum, size) => sum + size ** 2, 0) / n) / 15;
    const truth = {
      within,
      between,
      degreesOfFreedom: 15,
      withinDegreesOfFreedom: n - 16,
      meanSquareBetween: within + perCluster * between,
      perCluster,
    };
    const { degreesOfFreedom } = clusteredSlope(x, x, cluster, members, truth);
    const simulated = (2 * mean ** 2) / standardDeviation ** 2;
    expect(degreesOfFreedom / simulated).toBeGreaterThan(0.8);
    expect(degreesOfFreedom / simulated).toBeLessThan(1.25);
  });

  it("equals generalised least squares by matrices", () => {
    const cluster = [0, 0, 0, 1, 1, 2, 2, 2, 2, 3, 3];
    const [within, between] = [1.2, 0.7];
    const covariance = cluster.map((a, i) => cluster.map((b, j) => (a === b ? between : 0) + (i === j ? within : 0)));
    const design = [...anscombe.x].map((x, i) => [1, x, anscombe.y[i] as number]);
    const weighted = solve(covariance, design) as number[][];
    const cross = (a: number, b: number) =>
      design.reduce((sum, row, i) => sum + (row[a] as number) * (weighted[i]?.[b] as number), 0);
    const [[, expected]] = [
      (
        solve(
          [
            [cross(0, 0), cross(0, 1)],
            [cross(1, 0), cross(1, 1)],
          ],
          [[cross(0, 2)], [cross(1, 2)]],
        ) as number[][]
      ).flat(),
    ] as [[number, number]];
    const error = Math.sqrt(cross(0, 0) / (cross(0, 0) * cross(1, 1) - cross(0, 1) ** 2));
    const components = {
      within,
      between,
      degreesOfFreedom: 3,
      withinDegreesOfFreedom: 7,
      meanSquareBetween: 3,
      perCluster: 2.6,
    };
    const found = clusteredSlope(
      anscombe.y,
      anscombe.x,
      Int32Array.from(cluster),
      cluster.map((_, i) => i),
      components,
    );
    expectClose(found.slope, expected, 1e-9);
    expectClose(found.standardError, error, 1e-9);
  });
});

describe("intraclass correlation", () => {
  it("of Dyestuff, its F and its interval", () => {
    const { y, g, icc } = known.icc_reml.Dyestuff;
    const { codes, labels } = coded(g);
    const found = intraclass(y, codes, labels.length);
    expectClose(found.estimate, icc, 1e-6);
    expect(found.size).toBe(5);
    // The interval holds exactly the correlations for which F is between its 2.5th and 97.5th percentiles:
    // F scaled by (1 - rho) / (1 + 4 rho) at either end is such a percentile, so its tail is 0.025.
    expect(found.interval.low).toBeLessThan(icc);
    expect(found.interval.high).toBeGreaterThan(icc);
    const scaled = (rho: number) => (found.f * (1 - rho)) / (1 + 4 * rho);
    // 97.5th percentile of F(5, 24) is 3.1548, 2.5th is 0.1593 (1 / 6.2780): tables of the F distribution, from memory.
    expect(scaled(found.interval.low)).toBeCloseTo(3.1548, 3);
    expect(scaled(found.interval.high)).toBeCloseTo(1 / 6.278, 3);
  });

  it("covers the truth in 95 of 100 simulated surveys", () => {
    const random = randomStream(11);
    const truth = 0.05;
    let covered = 0;
    for (let run = 0; run < 400; run++) {
      const shift = Array.from({ length: 30 }, () => random.normal() * Math.sqrt(truth));
      const codes = Int32Array.from({ length: 600 }, (_, i) => i % 30);
      const values = Float64Array.from(codes, (c) => (shift[c] as number) + Math.sqrt(1 - truth) * random.normal());
      const { low, high } = intraclass(values, codes, 30).interval;
      if (low <= truth && truth <= high) covered++;
    }
    expect(covered / 400).toBeGreaterThan(0.92);
    expect(covered / 400).toBeLessThan(0.98);
  });
});

describe("tails of the heterogeneity of cases", () => {
  it.each([
    ["common cases", 0.3, 36, 25],
    ["rare cases", 0.04, 30, 15],
  ])("hold at 5 in 100 for %s", (_, share, places, size) => {
    const random = randomStream(23);
    let even = 0;
    let clumped = 0;
    const runs = 1500;
    for (let run = 0; run < runs; run++) {
      const cases = Array.from({ length: places }, () => {
        let count = 0;
        for (let i = 0; i < size; i++) if (random.uniform() < share) count++;
        return count;
      });
      const tails = heterogeneityTails(
        cases,
        cases.map(() => size),
      );
      if (tails.probabilityEven < 0.05) even++;
      if (tails.probabilityAbove(1) < 0.05) clumped++;
    }
    expect(even / runs).toBeGreaterThan(0.02);
    expect(even / runs).toBeLessThan(0.075);
    expect(clumped / runs).toBeGreaterThan(0.025);
    expect(clumped / runs).toBeLessThan(0.075);
  });
});

describe("bootstrap of shape", () => {
  it("drawing one by one agrees with the textbook standard error for normal values, and repeats itself", () => {
    const random = randomStream(5);
    const values = Float64Array.from({ length: 1500 }, () => random.normal());
    const each = Int32Array.from(values, (_, i) => i);
    const found = bootstrapShape(values, each, values.length, 400, 77);
    const { standardErrorOfSkewness, skewness } = momentsOf(values);
    const width = (found.skewness.high - found.skewness.low) / (2 * 1.96 * standardErrorOfSkewness);
    expect(width).toBeGreaterThan(0.8);
    expect(width).toBeLessThan(1.2);
    expect(found.skewness.low).toBeLessThan(skewness);
    expect(found.skewness.high).toBeGreaterThan(skewness);
    expect(bootstrapShape(values, each, values.length, 400, 77)).toEqual(found);
  });

  it("has no limits with one cluster", () => {
    expect(bootstrapShape(Float64Array.of(1, 2, 4), new Int32Array(3), 1, 50, 1).skewness.low).toBeNaN();
  });
});
