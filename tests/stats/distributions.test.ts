import { describe, expect, it } from "vitest";
import { betaCumulative, betaQuantile } from "../../src/stats/beta.js";
import { chiSquareLower, chiSquareQuantile, chiSquareUpper } from "../../src/stats/chi-square.js";
import { fUpper } from "../../src/stats/f.js";
import { normalCumulative, normalQuantile, normalUpper } from "../../src/stats/normal.js";
import { studentQuantile, studentTwoSided } from "../../src/stats/student-t.js";
import { expectClose, knownValues } from "./close.js";

// R 4.2.2: pchisq, qt, pt, pf, pnorm, qnorm, qbeta; see known-values/stats/README.md.
const known = knownValues("distributions.json");

/** A row of the file: arguments and value. */
type Row = Record<"x" | "p" | "df" | "df1" | "df2" | "a" | "b" | "value", number>;

describe("distributions against R", () => {
  it.each(known.pchisq_upper as Row[])("chi-square upper tail $x, $df", ({ x, df, value }) => {
    expectClose(chiSquareUpper(x, df), value);
  });
  it.each(known.qt as Row[])("t quantile $p, $df", ({ p, df, value }) => {
    expectClose(studentQuantile(p, df), value);
    expectClose(studentQuantile(1 - p, df), -value);
  });
  it.each(known.pt_upper as Row[])("t upper tail $x, $df", ({ x, df, value }) => {
    expectClose(studentTwoSided(x, df), 2 * value);
    expectClose(studentTwoSided(-x, df), 2 * value);
  });
  it.each(known.pf_upper as Row[])("F upper tail $x, $df1, $df2", ({ x, df1, df2, value }) => {
    expectClose(fUpper(x, df1, df2), value);
  });
  it.each(known.pnorm as Row[])("normal $x", ({ x, value }) => {
    expectClose(normalCumulative(x), value);
    expectClose(normalUpper(-x), value);
  });
  it.each(known.qnorm as Row[])("normal quantile $p", ({ p, value }) => {
    expectClose(normalQuantile(p), value);
  });
  it.each(known.qbeta as Row[])("beta quantile $p, $a, $b", ({ p, a, b, value }) => {
    expectClose(betaQuantile(p, a, b), value);
  });
});

describe("what ties the functions together", () => {
  it.each([
    [0.03, 4],
    [9, 9],
    [300, 250],
  ])("chi-square tails of %d on %d add up to 1", (x, df) => {
    expectClose(chiSquareUpper(x, df) + chiSquareLower(x, df), 1, 1e-13);
  });
  it.each([
    [0.001, 1],
    [0.95, 9],
    [0.99, 79],
    [0.5, 2.3],
  ])("chi-square quantile of %d on %d turns back", (p, df) => {
    expectClose(chiSquareLower(chiSquareQuantile(p, df), df), p, 1e-9);
  });
  it("t squared is F on 1 and the same degrees of freedom", () => {
    expectClose(studentTwoSided(2.3, 17), fUpper(2.3 ** 2, 1, 17), 1e-11);
    expectClose(studentTwoSided(12, 58), fUpper(144, 1, 58), 1e-11);
  });
  it("beta tails add up to 1", () => {
    expectClose(betaCumulative(0.2, 3, 9) + betaCumulative(0.8, 9, 3), 1, 1e-13);
  });
  it("impossible degrees of freedom give NaN, ends give 0 or 1", () => {
    for (const value of [
      chiSquareUpper(1, 0),
      chiSquareQuantile(0.5, -1),
      studentTwoSided(1, 0),
      studentQuantile(0.975, 0),
      fUpper(1, 0, 3),
      fUpper(1, 3, Number.NaN),
      fUpper(Number.NaN, 3, 3),
      betaQuantile(0.5, 0, 1),
      chiSquareUpper(Number.NaN, 2),
      studentTwoSided(Number.NaN, 2),
    ]) {
      expect(value).toBeNaN();
    }
    expect(chiSquareUpper(0, 3)).toBe(1);
    expect(chiSquareUpper(Number.POSITIVE_INFINITY, 3)).toBe(0);
    expect(fUpper(0, 2, 3)).toBe(1);
    expect(fUpper(Number.POSITIVE_INFINITY, 2, 3)).toBe(0);
    expect(studentTwoSided(0, 5)).toBe(1);
    expect(studentTwoSided(Number.POSITIVE_INFINITY, 5)).toBe(0);
  });
});
