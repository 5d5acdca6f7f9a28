import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { benjaminiHochberg, criticalProbabilities } from "../../src/stats/false-discovery.js";

describe("the probability that one finding must reach, the others staying as they are", () => {
  it("is met exactly by those that the procedure finds, whatever the own probability is changed to", () => {
    const some = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 12 });
    const low = fc.array(fc.double({ min: 0, max: 0.06, noNaN: true }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(fc.oneof(some, low), fc.double({ min: 0, max: 0.1, noNaN: true }), fc.nat(), (all, own, at) => {
        const i = at % all.length;
        const critical = criticalProbabilities(all, 0.05)[i] as number;
        fc.pre(Math.abs(own - critical) > 1e-9);
        const changed = all.map((p, j) => (j === i ? own : p));
        const found = (benjaminiHochberg(changed)[i] as number) <= 0.05;
        expect(own <= critical).toBe(found);
      }),
      { seed: 41, numRuns: 2000 },
    );
  });

  it("is the level itself for one alone, and NaN where there is no probability", () => {
    expect(criticalProbabilities([0.7], 0.05)).toEqual([0.05]);
    expect(criticalProbabilities([Number.NaN, 0.01], 0.05)).toEqual([Number.NaN, 0.05]);
    expect(criticalProbabilities([], 0.05)).toEqual([]);
  });

  // Benjamini and Hochberg 1995, section 3.1: fifteen probabilities; four are found at 0.05, so that a fifth would have
  // to reach 0.05 x 5 / 15. The values are those of their example, from memory.
  it("in the example of the procedure's paper", () => {
    const p = [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1,
    ];
    const critical = criticalProbabilities(p, 0.05);
    expect(p.filter((one, i) => one <= (critical[i] as number))).toHaveLength(4);
    expect(critical[0]).toBeCloseTo((0.05 * 4) / 15, 12);
    expect(critical[4]).toBeCloseTo((0.05 * 5) / 15, 12);
  });
});
