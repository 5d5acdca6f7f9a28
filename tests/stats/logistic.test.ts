import { describe, expect, it } from "vitest";
import { logisticFit } from "../../src/stats/logistic.js";
import { expectClose } from "./close.js";

const x = [
  -0.8, -1.32, -0.25, 0.42, 1.14, 0.11, -0.55, -0.78, 0.75, 1.63, 0.27, -1.23, -0.96, 1.6, 0.2, -1.73, -0.08, -1.16,
  -0.63, -0.49, -0.71, 0.55, -0.06, -0.59,
];
const age = [
  0.68, 0.87, 0.23, 0.9, 0.87, 0.02, 0.71, 0.0, 0.5, 0.44, 0.2, 0.32, 0.81, 0.32, 0.15, 0.7, 0.45, 0.8, 0.24, 0.32, 0.8,
  0.51, 0.51, 0.24,
];
const isCase = [1, 0, 1, 0, 1, 0, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 1, 0, 0, 0, 0, 1, 1, 0];
const weights = [
  1.1, 1.6, 1.4, 1.9, 2.0, 1.6, 1.7, 0.7, 1.6, 1.8, 1.1, 1.3, 1.2, 1.9, 1.0, 1.1, 0.5, 1.1, 1.4, 1.9, 1.9, 1.0, 2.0,
  0.8,
];
const rows = x.map((value, i) => [1, age[i] as number, value]);

describe("logistic regression", () => {
  it("agrees with a general root finder on the weighted score equations", () => {
    // scipy.optimize.root, SciPy 1.17.1; precision 0.1 on all coefficients but the first.
    const fit = logisticFit(rows, isCase, weights);
    const expected = [-0.08037838684713046, -0.2132524006947899, 2.171176826432789];
    for (const [k, value] of expected.entries()) expectClose(fit?.coefficients[k] ?? Number.NaN, value, 1e-7);
    expectClose(fit?.covariance[1]?.[1] ?? Number.NaN, 2.7270199848600676, 1e-6);
    expectClose(fit?.covariance[0]?.[2] ?? Number.NaN, 0.05752380882416664, 1e-6);
  });

  it("does not run away where cases and others part wholly, and says nothing without both", () => {
    const parted = logisticFit(
      rows,
      x.map((value) => (value > 0 ? 1 : 0)),
      weights,
    );
    expect(parted?.coefficients.every(Number.isFinite)).toBe(true);
    const nobody = x.map(() => 0);
    expect(logisticFit(rows, nobody, weights)).toBeNull();
    expect(logisticFit([], [], [])).toBeNull();
  });
});
