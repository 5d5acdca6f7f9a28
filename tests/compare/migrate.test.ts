import { describe, expect, it } from "vitest";
import { errorOfLogitInterval, migrated } from "../../src/compare/migrate.js";
import { message } from "../../src/results/message.js";
import { type Message, type Results, resultsSchema } from "../../src/results/schema.js";
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
    expect(brought.notes.slice(-3).map(({ id }) => id)).toEqual([
      "compare.migrated.errors-recovered",
      "compare.migrated.groups-not-stated",
      "compare.migrated.no-claims",
    ]);
    expect(brought.notes.length).toBe(now.notes.length + 3);
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
    // What is made of the count of scenarios, and what takes its place, is not kept: of the section only the scenarios are.
    const strip = (results: unknown) => {
      const one = asVersionOne(results as Results) as unknown as Results;
      const { consequence, checks, story } = one;
      const { headings: _, ...said } = story;
      return {
        ...one,
        notes: [],
        consequence: consequence?.scenarios,
        checks: checks.map(({ consequence: __, ...check }) => check),
        story: said,
      };
    };
    expect(strip(brought)).toEqual(strip(now));
  });
});

describe("results of version 2", () => {
  const brought = migrated(asVersionTwo(now)) as Results;

  it("become results that the schema of today accepts, with a note that their groups were not stated", () => {
    expect(resultsSchema.safeParse(brought).error?.issues).toBeUndefined();
    expect(brought.notes.slice(-2).map(({ id }) => id)).toEqual([
      "compare.migrated.groups-not-stated",
      "compare.migrated.no-claims",
    ]);
    expect(brought.groups).toEqual([]);
    expect(new Set(brought.checks.flatMap(({ quantities }) => quantities.map(({ of }) => of)))).toEqual(
      new Set(["not-stated"]),
    );
  });
});

describe("the count of scenarios of version 2", () => {
  /** A message as results of then hold it: its words may be gone. */
  const stored = (id: string, values: Message["values"] = {}): Message => ({ id, values });
  const counted = stored("story.stands.moved", { stands: 25, total: 32 });
  const estimate = stored("story.estimate.none", { estimate: message("estimate.wasting") });
  const quality = stored("story.quality.expected", { checks: 18 });
  const old = asVersionTwo(now) as unknown as { consequence: object; story: object };
  const raw = {
    ...old,
    consequence: {
      scenarios: [],
      tippingPoints: [{ estimate: "wasting", team: "T1" }],
      verdicts: [{ estimate: "wasting", stands: 25, total: 32 }],
      heading: stored("consequence.verdict.moved", { stands: 25, total: 32 }),
      paragraphs: [stored("consequence.verdict.stands"), stored("consequence.meaning.bounds")],
      method: [stored("consequence.method.counting")],
      charts: [],
      tables: [],
      sources: [],
    },
    story: {
      ...old.story,
      sentence: stored("story.sentence.with-consequence", { estimate, stands: counted, quality }),
      paragraphs: [stored("story.secondary", { estimate, stands: counted })],
    },
  };
  const brought = migrated(raw) as Results;

  it("is not told any more, and what is told has its words", () => {
    expect(resultsSchema.safeParse(brought).error?.issues).toBeUndefined();
    expect(brought.story.sentence).toEqual(stored("story.sentence", { estimate, quality }));
    expect(brought.story.paragraphs).toEqual([estimate]);
    expect(brought.story.headings.consequence?.id).toBe("claims.heading.earlier");
    expect(brought.consequence?.paragraphs.map(({ id }) => id)).toEqual(["consequence.meaning.bounds"]);
    expect(brought.consequence).toMatchObject({ answers: [], claims: [], tippingPoints: [], method: [] });
    expect(JSON.stringify(brought)).not.toMatch(/"(consequence\.verdict|story\.stands|verdicts)/);
  });
});

describe("what is not of an earlier version", () => {
  it("comes back as it is", () => {
    for (const raw of [now, null, [], "text", { version: 1 }, { format: "tareline-results", version: 4 }]) {
      expect(migrated(raw)).toBe(raw);
    }
  });

  it("broken parts are passed on for the schema to name, and nothing throws", () => {
    const broken = { format: "tareline-results", version: 1, consequence: { scenarios: [3, { outcomes: [null] }] } };
    expect(migrated(broken)).toMatchObject({ version: 3, consequence: { scenarios: [3, { outcomes: [null] }] } });
    expect(migrated({ ...broken, consequence: 5, notes: 5 })).toMatchObject({ version: 3, consequence: 5 });
  });
});
