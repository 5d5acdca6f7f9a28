import { describe, expect, it } from "vitest";
import { shape } from "../../src/checks/shape/index.js";
import { momentsOf } from "../../src/stats/moments.js";
import { normalQuantile } from "../../src/stats/normal.js";
import { randomStream } from "../../src/stats/random.js";
import { expectComplete, itHolds, resultOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import type { ChildrenGiven } from "./make-children.js";
import { makeChildren } from "./make-children.js";

itHolds(shape);

const survey = (count: number, z: (row: number) => number, more: Partial<ChildrenGiven> = {}) =>
  makeChildren({ count, z: { "weight-for-height": z }, cluster: (row) => `C${row % 36}`, ...more });

describe("shape", () => {
  it("a normal shape is expected; its numbers are the moments", () => {
    const random = randomStream(3);
    const z = Float64Array.from({ length: 900 }, () => random.normal());
    const result = resultOf(
      shape,
      survey(900, (row) => z[row] as number),
    );
    expect(result.reading).toBe("expected");
    const value = (id: string) => result.quantities.find((one) => one.id === id)?.value;
    expect(value("skewness-weight-for-height")).toBeCloseTo(momentsOf(z).skewness, 12);
    expect(value("excess-kurtosis-weight-for-height")).toBeCloseTo(momentsOf(z).excessKurtosis, 12);
    expectComplete(result);
  });

  it("a tail to one side", () => {
    // Gamma-like: minus the logarithm of a uniform has skewness 2.
    const random = randomStream(4);
    const result = resultOf(
      shape,
      survey(900, () => -1.5 - Math.log(random.uniform()) * 0.8),
    );
    expect(result.finding.id).toBe("checks.shape.finding.skewed");
    expect(result.reading).toBe("doubt");
    expectComplete(result);
  });

  it("heavy tails: a tenth measured with three times the spread", () => {
    const random = randomStream(6);
    const result = resultOf(
      shape,
      survey(900, () => random.normal() * (random.uniform() < 0.15 ? 2.4 : 0.6)),
    );
    expect(result.finding.id).toBe("checks.shape.finding.heavy");
    expect(["explain", "doubt"]).toContain(result.reading);
  });

  it("two humps", () => {
    const random = randomStream(7);
    const result = resultOf(
      shape,
      survey(900, () => (random.uniform() < 0.5 ? -2 : 2) + 0.5 * random.normal()),
    );
    expect(result.finding.id).toBe("checks.shape.finding.flat");
  });

  it("a significant but small departure is expected, and said to be small", () => {
    // 20,000 exact normal quantiles bent a little: skewness about 0.2.
    const z = (row: number) => {
      const quantile = normalQuantile((row + 0.5) / 20000);
      return quantile + 0.03 * (quantile ** 2 - 1);
    };
    const result = resultOf(shape, survey(20000, z));
    expect(result.quantities.find(({ id }) => id === "anderson-darling-weight-for-height")?.probability).toBeLessThan(
      0.001,
    );
    expect(result.reading).toBe("expected");
    expect(result.meaning.map(({ id }) => id)).toContain("checks.shape.meaning.significant");
    expectComplete(result);
  });

  it("one far-off child makes no team unusual", () => {
    const base = cleanSurvey({ seed: 41 });
    const column = base.indices["weight-for-height"];
    const z = Float64Array.from(column.z);
    z[0] = 4.9;
    const result = resultOf(shape, { ...base, indices: { ...base.indices, "weight-for-height": { ...column, z } } });
    expect(result.reading).toBe("expected");
  });

  it("the same seed gives the same limits", () => {
    const children = cleanSurvey({ seed: 42 });
    expect(resultOf(shape, children)).toEqual(resultOf(shape, children));
  });
});
