import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { markBelow } from "../../src/derive/rounding.js";

/** A number in whole hundredths, halves away from zero, by its definition. */
const hundredths = (value: number): number => Math.sign(value) * Math.round(Math.abs(value) * 100);

describe("marks below a limit in hundredths", () => {
  const marksOf = (values: readonly number[], sign: 1 | -1, limit: number): number[] => {
    const marks = new Uint8Array(values.length);
    markBelow(Float64Array.from(values), sign, limit, marks);
    return [...marks];
  };

  it("are those that rounding every value gives", () => {
    // Thousandths lie on the halves that rounding turns on.
    const value = fc.oneof(
      fc.integer({ min: -7000, max: 7000 }).map((thousandths) => thousandths / 1000),
      fc.double({ min: -300, max: 300 }),
      fc.constantFrom(Number.NaN, 0, -0, -1.995, -2.005, 124.995, Number.POSITIVE_INFINITY),
    );
    fc.assert(
      fc.property(
        fc.array(value, { maxLength: 40 }),
        fc.constantFrom<1 | -1>(1, -1),
        fc.oneof(fc.integer({ min: -700, max: 700 }), fc.constantFrom(11_500, 12_500)),
        (values, sign, limit) => {
          expect(marksOf(values, sign, limit)).toEqual(values.map((one) => Number(hundredths(sign * one) < limit)));
        },
      ),
      { numRuns: 2000, seed: 5 },
    );
  });

  it("leave the marks that stand", () => {
    const marks = Uint8Array.from([1, 0]);
    markBelow(Float64Array.from([5, -3]), 1, -200, marks);
    expect([...marks]).toEqual([1, 1]);
  });
});
