import { describe, expect, it } from "vitest";
import { meanCell, prevalenceCell } from "../../src/estimates/cell.js";
import { wasting2019 } from "../../src/estimates/classes.js";
import { notStated } from "../../src/results/group.js";
import { plainClusters, type SmallSurvey, surveyOf, twoStrata } from "./small-survey.js";

const label = "a group";

function cellOf({ design, isCase, everyone }: SmallSurvey, scheme = wasting2019) {
  return prevalenceCell({ design, isCase, inDomain: everyone, label, of: notStated, scheme });
}

describe("the prevalence of the small survey of two strata", () => {
  const survey = surveyOf(twoStrata);

  // Share 0.2359155, standard error 0.0520964, 6 degrees of freedom, design effect 1.23461, logit interval
  // 0.13212-0.38508: computed outside this project for these made-up counts, not published.
  it("has the share, error, degrees of freedom, logit interval and design effect computed outside", () => {
    const cell = cellOf(survey);
    expect(cell).toMatchObject({ n: 82, clusters: 8, status: "shown", degreesOfFreedom: 6, intervalMethod: "logit" });
    expect(cell.value).toBeCloseTo(0.2359155, 7);
    expect(cell.standardError).toBeCloseTo(0.0520964, 7);
    expect(cell.designEffect).toBeCloseTo(1.23461, 5);
    expect(cell.interval?.low).toBeCloseTo(0.13212, 5);
    expect(cell.interval?.high).toBeCloseTo(0.38508, 5);
    expect(cell.interval?.level).toBe(0.95);
    expect(cell.classification).toMatchObject({ at: "very-high", span: ["high", "very-high"] });
    expect(cell.reason).toBeUndefined();
  });

  // Strata: 0.142857 (0.068704) and 0.275 (0.064259), three degrees of freedom each: same origin.
  it("has those of each stratum, which are groups of 42 and 40 and so marked", () => {
    const cells = [0, 1].map((stratum) =>
      prevalenceCell({
        design: survey.design,
        isCase: survey.isCase,
        inDomain: Uint8Array.from(survey.stratum, (code) => (code === stratum ? 1 : 0)),
        label,
        of: notStated,
      }),
    );
    expect(cells.map((cell) => [cell.n, cell.status, cell.degreesOfFreedom])).toEqual([
      [42, "marked", 3],
      [40, "marked", 3],
    ]);
    expect(cells[0]?.value).toBeCloseTo(0.142857, 6);
    expect(cells[0]?.standardError).toBeCloseTo(0.068704, 6);
    expect(cells[1]?.value).toBeCloseTo(0.275, 10);
    expect(cells[1]?.standardError).toBeCloseTo(0.064259, 6);
    for (const cell of cells) expect(cell.classification).toBeUndefined();
  });
});

// Demographic and Health Surveys and Multiple Indicator Cluster Surveys, table notes: under 25 unweighted cases not
// shown, 25 to 49 in parentheses.
describe("small groups", () => {
  const ofSize = (n: number): SmallSurvey =>
    plainClusters([
      [12, 2],
      [n - 12, 3],
    ]);

  it.each([
    [25, "marked"],
    [49, "marked"],
    [50, "shown"],
  ] as const)("a group of %i children is %s", (n, status) => {
    expect(cellOf(ofSize(n)).status).toBe(status);
  });

  it("the whole survey is never withheld for its size", () => {
    expect(cellOf(ofSize(24))).toMatchObject({ status: "marked", n: 24 });
    expect(cellOf(ofSize(24)).value).toBeCloseTo(5 / 24, 12);
  });

  it("no child at all is unknown, with the reason", () => {
    const survey = ofSize(30);
    const cell = prevalenceCell({ ...survey, inDomain: new Uint8Array(30), label, of: notStated });
    expect(cell).toMatchObject({ n: 0, status: "unknown", value: null, reason: { id: "cell.no-children" } });
  });
});

describe("where the logit interval cannot be had", () => {
  // With an assumed design effect of 1.5, 60 children count as 40: exact upper limit 1 - 0.025^(1/40) = 0.08810.
  it("no case: an exact interval on the assumed effective size, no design effect, no probabilities", () => {
    const cell = cellOf(
      plainClusters([
        [20, 0],
        [20, 0],
        [20, 0],
      ]),
    );
    expect(cell).toMatchObject({ value: 0, intervalMethod: "exact-effective-n", designEffect: null, status: "shown" });
    expect(cell.interval?.low).toBe(0);
    expect(cell.interval?.high).toBeCloseTo(1 - 0.025 ** (1 / 40), 10);
    expect(cell.classification).toMatchObject({ at: "very-low", span: ["very-low", "low", "medium"] });
    expect(cell.classification?.probabilities).toEqual([]);
  });

  it("nothing but cases: the mirror image", () => {
    const cell = cellOf(
      plainClusters([
        [20, 20],
        [20, 20],
        [20, 20],
      ]),
    );
    expect(cell).toMatchObject({ value: 1, intervalMethod: "exact-effective-n" });
    expect(cell.interval?.low).toBeCloseTo(0.025 ** (1 / 40), 10);
    expect(cell.interval?.high).toBe(1);
  });

  it("the same share in every cluster: an exact interval, not one of width nothing", () => {
    const cell = cellOf(
      plainClusters([
        [20, 2],
        [20, 2],
        [20, 2],
      ]),
    );
    expect(cell.intervalMethod).toBe("exact-effective-n");
    expect(cell.value).toBeCloseTo(0.1, 12);
    expect((cell.interval?.high ?? 0) - (cell.interval?.low ?? 0)).toBeGreaterThan(0.1);
  });

  it("one cluster only: the share, no interval, no class, and the reason", () => {
    const cell = cellOf(plainClusters([[60, 6]]));
    expect(cell.value).toBeCloseTo(0.1, 12);
    expect(cell).toMatchObject({ n: 60, clusters: 1, reason: { id: "cell.one-cluster" } });
    const { interval, standardError, intervalMethod, designEffect, classification } = cell;
    expect([interval, standardError, intervalMethod, designEffect]).toEqual([null, null, null, null]);
    expect(classification).toBeUndefined();
  });
});

describe("the mean of a group", () => {
  // Lohr, Sampling: Design and Analysis, grade point averages of five suites: mean 2.826, standard error 0.1679 without
  // finite population correction (book's figures from memory, recomputed), t on 4 degrees of freedom 2.7764451.
  const marks = Float64Array.of(
    ...[3.08, 2.6, 3.44, 3.04, 2.36, 3.04, 3.28, 2.68, 2.0, 2.56, 2.52, 1.88, 3.0, 2.88, 3.44, 3.64, 2.68, 1.92, 3.28],
    3.2,
  );
  const suites = plainClusters([
    [4, 0],
    [4, 0],
    [4, 0],
    [4, 0],
    [4, 0],
  ]);

  it("five suites of four students", () => {
    const cell = meanCell({ design: suites.design, inDomain: suites.everyone, label, of: notStated, values: marks });
    expect(cell).toMatchObject({ n: 20, clusters: 5, degreesOfFreedom: 4, intervalMethod: "t", status: "marked" });
    expect(cell.value).toBeCloseTo(2.826, 10);
    expect(cell.standardError).toBeCloseTo(0.1679, 4);
    const half = 2.7764451 * (cell.standardError ?? Number.NaN);
    expect(cell.interval?.low).toBeCloseTo(2.826 - half, 6);
    expect(cell.interval?.high).toBeCloseTo(2.826 + half, 6);
    expect(cell.standardDeviation).toBeGreaterThan(0);
  });

  it("one cluster only: the mean without an interval, with the reason", () => {
    const { design, everyone } = plainClusters([[20, 0]]);
    const cell = meanCell({ design, inDomain: everyone, label, of: notStated, values: marks });
    expect(cell.value).toBeCloseTo(2.826, 10);
    expect(cell).toMatchObject({ interval: null, standardError: null, reason: { id: "cell.one-cluster" } });
  });

  it("one child: no spread, no design effect, and nothing that is not a number", () => {
    const { design, everyone } = plainClusters([[1, 0]]);
    const cell = meanCell({ design, inDomain: everyone, label, of: notStated, values: Float64Array.of(-1.2) });
    expect(cell).toMatchObject({ n: 1, value: -1.2, standardDeviation: null, designEffect: null, interval: null });
  });
});
