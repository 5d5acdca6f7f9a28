import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { wilson } from "../../../src/stats/binomial.js";
import { compareIndependent } from "../../../src/stats/design/difference.js";
import { logitInterval, meanInterval, zeroCasesInterval } from "../../../src/stats/design/interval.js";
import { estimateMean } from "../../../src/stats/design/mean.js";
import { estimateProportion } from "../../../src/stats/design/proportion.js";
import { raoScott } from "../../../src/stats/design/rao-scott.js";
import { estimateStandardDeviation } from "../../../src/stats/design/standard-deviation.js";
import { makeDesign, type SurveyDesign } from "../../../src/stats/design/survey-design.js";
import { oneWay } from "../../../src/stats/one-way.js";
import { randomStream } from "../../../src/stats/random.js";
import { studentQuantile } from "../../../src/stats/student-t.js";
import { surveyOf, twoStrata } from "../../estimates/small-survey.js";
import { expectClose } from "../close.js";
import { domain } from "./known-surveys.js";

describe("the small survey of two strata", () => {
  const { design, isCase, stratum, everyone } = surveyOf(twoStrata);
  const whole = estimateProportion(design, isCase, everyone);

  it("share, standard error, degrees of freedom, design effect", () => {
    expect([whole.n, whole.cases, whole.clusters, whole.degreesOfFreedom]).toEqual([82, 17, 8, 6]);
    expect(whole.estimate).toBeCloseTo(0.2359155, 7);
    expect(whole.standardError).toBeCloseTo(0.0520964, 7);
    expect(whole.designEffect).toBeCloseTo(1.23461, 5);
    expect(whole.singleClusterStrata).toBe(0);
    expect(studentQuantile(0.975, 6)).toBeCloseTo(2.4469119, 7);
  });

  it("intervals: symmetric, logit, Wilson on the effective size", () => {
    const { estimate, standardError, degreesOfFreedom, n } = whole;
    const symmetric = meanInterval(estimate, standardError, degreesOfFreedom);
    expect([symmetric.low, symmetric.high].map((x) => x.toFixed(5))).toEqual(["0.10844", "0.36339"]);
    const logit = logitInterval(estimate, standardError, degreesOfFreedom);
    expect([logit.low, logit.high].map((x) => x.toFixed(5))).toEqual(["0.13212", "0.38508"]);
    const effective = n / whole.designEffect;
    expect(effective).toBeCloseTo(66.4175, 4);
    const score = wilson(estimate * effective, effective);
    expect([score.low, score.high].map((x) => x.toFixed(5))).toEqual(["0.15003", "0.35068"]);
  });

  it("each stratum by itself", () => {
    const inA = domain(82, (i) => stratum[i] === 0);
    const inB = domain(82, (i) => stratum[i] === 1);
    const a = estimateProportion(design, isCase, inA);
    const b = estimateProportion(design, isCase, inB);
    expect(a.estimate).toBeCloseTo(0.142857, 6);
    expect(a.standardError).toBeCloseTo(0.068704, 6);
    expect(b.estimate).toBeCloseTo(0.275, 10);
    expect(b.standardError).toBeCloseTo(0.064259, 6);
    expect([a.degreesOfFreedom, b.degreesOfFreedom]).toEqual([3, 3]);
  });

  it("the linearized standard error lies near the one of a delete-one-cluster jackknife", () => {
    let variance = 0;
    for (let left = 0; left < 8; left++) {
      const rest = domain(82, (i) => design.cluster[i] !== left);
      // Weights of the other three clusters of the stratum grow by 4/3.
      const grown = {
        ...design,
        weight: design.weight.map((w, i) => (stratum[i] === twoStrata[left]?.[0] ? (w * 4) / 3 : w)),
      };
      variance += 0.75 * (estimateProportion(grown, isCase, rest).estimate - whole.estimate) ** 2;
    }
    expect(Math.sqrt(variance)).toBeCloseTo(0.0527567, 7);
    expect(whole.standardError / Math.sqrt(variance)).toBeGreaterThan(0.95);
  });
});

describe("Lohr's five suites of a hundred", () => {
  // Lohr, Sampling: Design and Analysis, grade point averages: mean 2.826, standard error 0.164 with the finite population
  // correction (book's figures from memory, recomputed: 0.16366; without it 0.1679; design effect 2.13).
  const marks = Float64Array.of(
    ...[3.08, 2.6, 3.44, 3.04, 2.36, 3.04, 3.28, 2.68, 2.0, 2.56, 2.52, 1.88, 3.0, 2.88, 3.44, 3.64, 2.68, 1.92, 3.28],
    3.2,
  );
  const suite = marks.map((_, i) => Math.floor(i / 4));
  const parts = { count: 20, cluster: suite, stratum: null, weight: null };
  const everyone = domain(20, () => true);

  it("mean and standard error with and without the correction", () => {
    const whole = new Array<number>(20).fill(4);
    const hundred = { ...parts, clustersInPopulation: [100] };
    const corrected = estimateMean(makeDesign({ ...hundred, membersInPopulation: whole }), marks, everyone);
    expect(corrected.estimate).toBeCloseTo(2.826, 10);
    expect(corrected.standardError).toBeCloseTo(0.16366, 5);
    const plain = estimateMean(makeDesign(parts), marks, everyone);
    expect(plain.standardError).toBeCloseTo(0.1679, 4);
    expect(plain.degreesOfFreedom).toBe(4);
    // Mean square between over the total variance.
    expectClose(plain.designEffect, oneWay(marks, suite, 5).between / ((4 * 0.56392 + 15 * 0.18504) / 19), 1e-4);
    expect(plain.designEffect).toBeCloseTo(2.13, 2);
  });

  it("a population smaller than the sample gives no variance rather than a wrong one", () => {
    const whole = { ...parts, membersInPopulation: new Array<number>(20).fill(4) };
    expect(estimateMean(makeDesign({ ...whole, clustersInPopulation: [3] }), marks, everyone).standardError).toBeNaN();
    expect(estimateMean(makeDesign({ ...whole, clustersInPopulation: [5] }), marks, everyone).standardError).toBe(0);
  });
});

describe("differences between two surveys", () => {
  it("made-up rounds of 620 and 600 children", () => {
    // Worked out outside: 14.5 in 100, design effect 1.5, against 10.8, design effect 1.4: standard errors 0.01732 and
    // 0.01499, difference 0.037, standard error 0.02291, z 1.615, p 0.106 for many degrees of freedom.
    const round = (estimate: number, n: number, designEffect: number) => ({
      estimate,
      variance: (designEffect * estimate * (1 - estimate)) / n,
      degreesOfFreedom: 1e7,
    });
    const result = compareIndependent(round(0.145, 620, 1.5), round(0.108, 600, 1.4));
    expect(result.standardError).toBeCloseTo(0.02291, 5);
    expect(result.t).toBeCloseTo(1.615, 3);
    expect(result.probability).toBeCloseTo(0.106, 3);
  });
  it("intervals that overlap can still differ", () => {
    // Schenker and Gentleman, Am Stat 2001;55:182-6: 112 of 200 against 88 of 200 (read); z 2.417, p 0.0156 recomputed.
    const group = (cases: number) => ({
      estimate: cases / 200,
      variance: ((cases / 200) * (1 - cases / 200)) / 200,
      degreesOfFreedom: 1e7,
    });
    const result = compareIndependent(group(112), group(88));
    expect(result.t).toBeCloseTo(2.417, 3);
    expect(result.probability).toBeCloseTo(0.0156, 4);
  });
  it("degrees of freedom lie between the smaller one and the sum", () => {
    const result = compareIndependent(
      { estimate: 0.2, variance: 0.0009, degreesOfFreedom: 24 },
      { estimate: 0.1, variance: 0.0004, degreesOfFreedom: 29 },
    );
    expect(result.degreesOfFreedom).toBeGreaterThan(24);
    expect(result.degreesOfFreedom).toBeLessThan(53);
  });
});

describe("making a design", () => {
  it("one cluster code in two strata makes two clusters", () => {
    const design = makeDesign({ count: 4, cluster: [1, 1, 1, 2], stratum: [0, 1, 0, 1], weight: null });
    expect([...design.cluster]).toEqual([0, 1, 0, 2]);
    expect(design.clusterCount).toBe(3);
  });
  it("rows that cannot count: no cluster, no stratum, weight missing, zero, negative or infinite", () => {
    const design = makeDesign({
      count: 7,
      cluster: [-1, 0, 1, 2, 3, 4, 5],
      stratum: [0, -1, 0, 0, 0, 0, 0],
      weight: [1, 1, Number.NaN, 0, -2, Number.POSITIVE_INFINITY, 3],
    });
    expect([...design.weight]).toEqual([0, 0, 0, 0, 0, 0, 3]);
    const isCase = new Uint8Array(7).fill(1);
    const result = estimateProportion(design, isCase, isCase);
    expect([result.n, result.cases, result.estimate, result.clusters]).toEqual([1, 1, 1, 1]);
    // The clusters of the rows of weight 0 were visited: 5 clusters with a code and a stratum.
    expect(design.clusterCount).toBe(5);
  });
  it("without clusters every row is one", () => {
    const design = makeDesign({ count: 3, cluster: null, stratum: null, weight: null });
    expect(design.clusterCount).toBe(3);
  });
  it("refuses parts that are too short", () => {
    const short = { count: 3, cluster: [0, 1], stratum: null, weight: null };
    expect(() => makeDesign(short)).toThrow(RangeError);
    const design = makeDesign({ count: 3, cluster: null, stratum: null, weight: null });
    expect(() => estimateMean(design, [1, 2], new Uint8Array(3))).toThrow(RangeError);
  });
});

describe("strata with a single cluster", () => {
  const parts = { count: 6, cluster: [0, 0, 1, 1, 2, 2], stratum: [0, 0, 0, 0, 1, 1], weight: null };
  const values = [1, 0, 0, 0, 1, 1];
  const everyone = new Uint8Array(6).fill(1);

  it("are counted, and centred at the mean of all clusters", () => {
    const result = estimateProportion(makeDesign(parts), Uint8Array.from(values), everyone);
    expect(result.singleClusterStrata).toBe(1);
    expect(result.degreesOfFreedom).toBe(1);
    // p = 1/2; cluster scores (cases - p size)/6 = 0, -1/6, 1/6, their mean 0. Stratum 0: 2/(2-1) * 2 * (1/12)^2 = 1/36;
    // stratum 1: (1/6)^2 = 1/36.
    expectClose(result.variance, 2 / 36);
  });
  it("all of them: no degrees of freedom, so no interval", () => {
    const alone = makeDesign({ ...parts, stratum: parts.cluster });
    const result = estimateProportion(alone, Uint8Array.from(values), everyone);
    expect([result.singleClusterStrata, result.degreesOfFreedom]).toEqual([3, 0]);
    expect(logitInterval(result.estimate, result.standardError, result.degreesOfFreedom).low).toBeNaN();
    expect(meanInterval(result.estimate, result.standardError, result.degreesOfFreedom).high).toBeNaN();
  });
});

describe("exact interval where the standard error says nothing", () => {
  it("no case and all cases", () => {
    expectClose(zeroCasesInterval(0, 300).high, 1 - 0.025 ** (1.5 / 300));
    expect(zeroCasesInterval(0, 300).low).toBe(0);
    expectClose(zeroCasesInterval(1, 300).low, 0.025 ** (1.5 / 300));
    expect(zeroCasesInterval(1, 300).high).toBe(1);
    // Rule of three: about 3.7/n for a two-sided interval of 95 in 100, times the design effect.
    expect(zeroCasesInterval(0, 300, 0.95, 1).high).toBeCloseTo(3.69 / 300, 3);
    expect(zeroCasesInterval(0, 300, 0.95, 0.2)).toEqual(zeroCasesInterval(0, 300, 0.95, 1));
    expect(zeroCasesInterval(0, 0).high).toBeNaN();
  });
  it("the logit interval refuses shares of 0 and 1", () => {
    for (const share of [0, 1, Number.NaN]) {
      expect(logitInterval(share, 0, 20).low).toBeNaN();
    }
  });
});

/** A drawn survey: strata, clusters, weights, values. */
const drawn = fc
  .record({
    seed: fc.integer(),
    strata: fc.integer({ min: 1, max: 4 }),
    clusters: fc.integer({ min: 2, max: 6 }),
    size: fc.integer({ min: 1, max: 8 }),
  })
  .map(({ seed, strata, clusters: perStratum, size }) => {
    const stream = randomStream(seed);
    const count = strata * perStratum * size;
    const cluster = Int32Array.from({ length: count }, (_, i) => Math.floor(i / size));
    const stratum = cluster.map((c) => Math.floor(c / perStratum));
    const weight = Float64Array.from({ length: count }, () => 0.5 + stream.uniform() * 4);
    const isCase = Uint8Array.from({ length: count }, () => (stream.uniform() < 0.3 ? 1 : 0));
    const values = Float64Array.from({ length: count }, () => stream.normal());
    const inDomain = Uint8Array.from({ length: count }, () => (stream.uniform() < 0.7 ? 1 : 0));
    const group = Int32Array.from({ length: count }, () => stream.below(3));
    return { design: makeDesign({ count, cluster, stratum, weight }), isCase, values, inDomain, group };
  });

describe("estimates of any survey", () => {
  it("stay the same when all weights are multiplied", () => {
    fc.assert(
      fc.property(drawn, fc.double({ min: 0.01, max: 5000, noNaN: true }), (survey, factor) => {
        const { design, isCase, values, inDomain, group } = survey;
        fc.pre(inDomain.some((inside) => inside === 1));
        const heavier: SurveyDesign = { ...design, weight: design.weight.map((w) => w * factor) };
        const before = estimateProportion(design, isCase, inDomain);
        const after = estimateProportion(heavier, isCase, inDomain);
        expect(after.estimate).toBeCloseTo(before.estimate, 10);
        expect(after.standardError).toBeCloseTo(before.standardError, 10);
        expect(after.degreesOfFreedom).toBe(before.degreesOfFreedom);
        expect(estimateMean(heavier, values, inDomain).standardError).toBeCloseTo(
          estimateMean(design, values, inDomain).standardError,
          10,
        );
        const one = raoScott(design, isCase, group, 3, inDomain);
        const two = raoScott(heavier, isCase, group, 3, inDomain);
        if (Number.isNaN(one.probability)) expect(two.probability).toBeNaN();
        else expect(two.probability).toBeCloseTo(one.probability, 7);
      }),
    );
  });

  it("the share who are not cases has the same standard error; a share is the mean of 0 and 1", () => {
    fc.assert(
      fc.property(drawn, ({ design, isCase, inDomain }) => {
        fc.pre(inDomain.some((inside) => inside === 1));
        const share = estimateProportion(design, isCase, inDomain);
        const others = estimateProportion(
          design,
          isCase.map((x) => 1 - x),
          inDomain,
        );
        expect(others.estimate).toBeCloseTo(1 - share.estimate, 12);
        expect(others.standardError).toBeCloseTo(share.standardError, 12);
        const mean = estimateMean(design, isCase, inDomain);
        expect([mean.estimate, mean.variance]).toEqual([share.estimate, share.variance]);
      }),
    );
  });

  it("a missing value equals a row outside the domain, and so does a weight of 0", () => {
    fc.assert(
      fc.property(drawn, ({ design, values, inDomain }) => {
        const holed = values.map((value, i) => (inDomain[i] === 1 ? value : Number.NaN));
        const everyone = new Uint8Array(design.count).fill(1);
        const weightless = { ...design, weight: design.weight.map((w, i) => (inDomain[i] === 1 ? w : 0)) };
        const inside = estimateMean(design, values, inDomain);
        expect(estimateMean(design, holed, everyone)).toEqual(inside);
        expect(estimateMean(weightless, values, everyone)).toEqual(inside);
        expect(estimateStandardDeviation(design, holed, everyone)).toEqual(
          estimateStandardDeviation(design, values, inDomain),
        );
      }),
    );
  });

  it("the order of rows changes nothing but the last digits", () => {
    fc.assert(
      fc.property(drawn, ({ design, isCase, inDomain }) => {
        const back = <T extends Int32Array | Float64Array | Uint8Array>(column: T): T => column.slice().reverse() as T;
        const turned = makeDesign({
          count: design.count,
          cluster: back(design.cluster),
          stratum: back(design.stratum),
          weight: back(design.weight),
        });
        const before = estimateProportion(design, isCase, inDomain);
        const after = estimateProportion(turned, back(isCase), back(inDomain));
        if (before.n === 0) expect(after.estimate).toBeNaN();
        else expect(after.standardError).toBeCloseTo(before.standardError, 12);
        expect([after.n, after.cases, after.degreesOfFreedom]).toEqual([
          before.n,
          before.cases,
          before.degreesOfFreedom,
        ]);
      }),
    );
  });

  it("an empty domain gives NaN and no member, never 0", () => {
    const { design, isCase } = surveyOf(twoStrata);
    const nobody = new Uint8Array(82);
    const share = estimateProportion(design, isCase, nobody);
    expect(share.estimate).toBeNaN();
    expect(share.standardError).toBeNaN();
    expect([share.n, share.clusters, share.degreesOfFreedom]).toEqual([0, 0, 0]);
    expect(estimateMean(design, isCase, nobody).estimate).toBeNaN();
    expect(estimateStandardDeviation(design, isCase, nobody).estimate).toBeNaN();
  });
});

describe("Rao-Scott test", () => {
  it("under simple random sampling is Pearson's chi-square divided by its degrees of freedom, nearly", () => {
    const stream = randomStream(5);
    const count = 4000;
    const design = makeDesign({ count, cluster: null, stratum: null, weight: null });
    const group = Int32Array.from({ length: count }, () => stream.below(4));
    const isCase = Uint8Array.from({ length: count }, () => (stream.uniform() < 0.2 ? 1 : 0));
    const test = raoScott(design, isCase, group, 4, new Uint8Array(count).fill(1));
    expect(test.statistic / (test.chiSquare / 3)).toBeCloseTo(1, 2);
    expect(test.numeratorDf).toBeCloseTo(3, 2);
  });

  it("skips groups without a row and rows without a group, and cannot tell when all are alike", () => {
    const { design, isCase, stratum, everyone } = surveyOf(twoStrata);
    const plain = raoScott(design, isCase, stratum, 2, everyone);
    const spaced = raoScott(
      design,
      isCase,
      stratum.map((s) => (s === 0 ? 1 : 4)),
      6,
      everyone,
    );
    expect(spaced).toEqual(plain);
    expect(plain.groups).toBe(2);
    expect(raoScott(design, isCase, new Int32Array(82), 1, everyone).probability).toBeNaN();
    expect(raoScott(design, new Uint8Array(82), stratum, 2, everyone).probability).toBeNaN();
    expect(raoScott(design, new Uint8Array(82).fill(1), stratum, 2, everyone).probability).toBeNaN();
    expect(raoScott(design, isCase, new Int32Array(82).fill(-1), 2, everyone).probability).toBeNaN();
  });

  it("finds a difference in about 5 in 100 surveys where there is none, though clusters differ", () => {
    const stream = randomStream(99);
    let found = 0;
    const surveys = 1000;
    for (let survey = 0; survey < surveys; survey++) {
      const count = 30 * 15;
      const cluster = Int32Array.from({ length: count }, (_, i) => Math.floor(i / 15));
      // Each cluster lies wholly in one group: the worst case for a test that forgets clusters.
      const group = cluster.map((c) => c % 3);
      const rate = Float64Array.from({ length: 30 }, () => 0.05 + 0.3 * stream.uniform());
      const isCase = Uint8Array.from({ length: count }, (_, i) =>
        stream.uniform() < (rate[cluster[i] as number] as number) ? 1 : 0,
      );
      const design = makeDesign({ count, cluster, stratum: null, weight: null });
      if (raoScott(design, isCase, group, 3, new Uint8Array(count).fill(1)).probability < 0.05) found++;
    }
    expect(found / surveys).toBeGreaterThan(0.025);
    expect(found / surveys).toBeLessThan(0.09);
  });
});

describe("coverage in drawn surveys", () => {
  it("the logit interval holds the true share in about 95 of 100 clustered surveys", () => {
    const stream = randomStream(1234);
    const surveys = 1500;
    let held = 0;
    for (let survey = 0; survey < surveys; survey++) {
      const count = 30 * 20;
      const cluster = Int32Array.from({ length: count }, (_, i) => Math.floor(i / 20));
      // Rates uniform on 0.02 to 0.22: true share 0.12.
      const rate = Float64Array.from({ length: 30 }, () => 0.02 + 0.2 * stream.uniform());
      const isCase = Uint8Array.from({ length: count }, (_, i) =>
        stream.uniform() < (rate[cluster[i] as number] as number) ? 1 : 0,
      );
      const design = makeDesign({ count, cluster, stratum: null, weight: null });
      const share = estimateProportion(design, isCase, new Uint8Array(count).fill(1));
      const interval = logitInterval(share.estimate, share.standardError, share.degreesOfFreedom);
      if (interval.low <= 0.12 && interval.high >= 0.12) held++;
    }
    expect(held / surveys).toBeGreaterThan(0.93);
    expect(held / surveys).toBeLessThan(0.97);
  });

  it("the standard error of the standard deviation is the spread of estimates over surveys", () => {
    const stream = randomStream(4321);
    const surveys = 600;
    const estimates: number[] = [];
    let errors = 0;
    for (let survey = 0; survey < surveys; survey++) {
      const count = 40 * 10;
      const cluster = Int32Array.from({ length: count }, (_, i) => Math.floor(i / 10));
      const level = Float64Array.from({ length: 40 }, () => 0.6 * stream.normal());
      const values = Float64Array.from(
        { length: count },
        (_, i) => (level[cluster[i] as number] as number) + stream.normal(),
      );
      const design = makeDesign({ count, cluster, stratum: null, weight: null });
      const result = estimateStandardDeviation(design, values, new Uint8Array(count).fill(1));
      estimates.push(result.estimate);
      errors += result.standardError / surveys;
    }
    const mean = estimates.reduce((sum, x) => sum + x, 0) / surveys;
    const spread = Math.sqrt(estimates.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (surveys - 1));
    expect(errors / spread).toBeGreaterThan(0.88);
    expect(errors / spread).toBeLessThan(1.12);
  });
});
