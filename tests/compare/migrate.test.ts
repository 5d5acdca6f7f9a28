import { describe, expect, it } from "vitest";
import { errorOfLogitInterval, migrated } from "../../src/compare/migrate.js";
import { type Results, resultsSchema } from "../../src/results/schema.js";
import { logitInterval } from "../../src/stats/design/interval.js";
import { asVersionOne, asVersionTwo, computedResults } from "./computed-results.js";

const now = await computedResults({ seed: 71, size: 360, clusters: 18 });
const then = asVersionOne(now);
const outcomes = (results: Results) =>
  (results.consequence?.scenarios ?? []).flatMap(({ id, outcomes }) => outcomes.map((outcome) => ({ id, ...outcome })));
const publishedDegrees = new Map(now.estimates.map(({ id, overall }) => [id, overall?.degreesOfFreedom]));

describe("the error behind a logit interval", () => {
  it("is the one the interval was made with", () => {
    for (const [value, error, degrees] of [
      [0.786885, 0.046257, 14],
      [0.05, 0.011, 29],
      [0.004, 0.0021, 33],
    ] as const) {
      const { low, high } = logitInterval(value, error, degrees);
      expect(errorOfLogitInterval(value, low, high, degrees)).toBeCloseTo(error, 12);
    }
  });

  it("is not to be had without an interval, at 0 and 1, off centre, or without degrees of freedom", () => {
    const { low, high } = logitInterval(0.1, 0.02, 20);
    expect(errorOfLogitInterval(0.1, null, null, 20)).toBeNull();
    expect(errorOfLogitInterval(0, 0, 0.02, 20)).toBeNull();
    expect(errorOfLogitInterval(0.11, low, high, 20)).toBeNull();
    expect(errorOfLogitInterval(0.1, low, high, 0)).toBeNull();
    expect(errorOfLogitInterval(0.1, low, high, Number.NaN)).toBeNull();
  });
});

describe("results of version 1", () => {
  const brought = migrated(then) as Results;

  it("become results that the schema of today accepts, with a note on what was recovered", () => {
    expect(resultsSchema.safeParse(then).success).toBe(false);
    expect(resultsSchema.safeParse(brought).error?.issues).toBeUndefined();
    expect(brought.notes.at(-1)?.id).toBe("compare.migrated.errors-recovered");
    expect(brought.notes.length).toBe(now.notes.length + 1);
  });

  it("get back the standard errors, exactly where the degrees of freedom are the published ones", () => {
    const was = outcomes(now);
    const is = outcomes(brought);
    expect(is.length).toBe(was.length);
    let exact = 0;
    let apart = 0;
    for (const [i, outcome] of was.entries()) {
      const recovered = is[i]?.standardError;
      const isLogit = outcome.value > 0 && outcome.value < 1 && (outcome.standardError ?? 0) > 1e-12;
      if (!isLogit || outcome.low === null) continue;
      if (outcome.degreesOfFreedom === publishedDegrees.get(outcome.estimate)) {
        expect(Math.abs((recovered ?? Number.NaN) - (outcome.standardError ?? 0)), outcome.id).toBeLessThan(1e-9);
        exact += 1;
      } else {
        // A few degrees of freedom fewer: the error is off by as much as the percentiles of t are.
        expect(Math.abs((recovered ?? Number.NaN) / (outcome.standardError ?? 0) - 1), outcome.id).toBeLessThan(0.3);
        apart += 1;
      }
    }
    expect(exact).toBeGreaterThan(50);
    expect(apart).toBeGreaterThan(5);
  });

  it("keep everything else as it was", () => {
    const strip = (results: unknown) => ({ ...asVersionOne(results as Results), notes: [] });
    expect(strip(brought)).toEqual(strip(now));
  });
});

describe("results of version 2", () => {
  it("become those of today, their section for comparisons gathered from the other parts", () => {
    expect(migrated(asVersionTwo(now))).toEqual(now);
  });
});

describe("what is of no earlier version", () => {
  it("comes back as it is", () => {
    for (const raw of [now, null, [], "text", { version: 1 }, { format: "tareline-results", version: 3 }]) {
      expect(migrated(raw)).toBe(raw);
    }
  });

  it("broken parts are passed on for the schema to name, and nothing throws", () => {
    const broken = { format: "tareline-results", version: 1, consequence: { scenarios: [3, { outcomes: [null] }] } };
    expect(migrated(broken)).toMatchObject({ version: 3, consequence: { scenarios: [3, { outcomes: [null] }] } });
    expect(migrated({ ...broken, consequence: 5, notes: 5 })).toMatchObject({ version: 3, consequence: 5 });
  });
});
