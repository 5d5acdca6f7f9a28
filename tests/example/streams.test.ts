import { describe, expect, it } from "vitest";
import { purposes, seedOf, streamsOf } from "../../src/example/streams.js";
import { randomStream, seedFor } from "../../src/stats/random.js";
import { correlation, mean } from "./observed.js";

describe("streams of invented surveys", () => {
  it("no two purposes of any two surveys share a seed", () => {
    const seeds = new Set<number>();
    for (let survey = 1; survey <= 1000; survey++) for (const purpose of purposes) seeds.add(seedOf(survey, purpose));
    expect(seeds.size).toBe(1000 * purposes.length);
  });

  it("the first draws of neighbouring surveys and of different purposes do not go together", () => {
    const surveys = 1500;
    const draws = purposes
      .slice(0, 6)
      .map((purpose) => Array.from({ length: surveys }, (_, survey) => streamsOf(survey + 1)[purpose].uniform()));
    // Of 21 pairs of 1,500 draws each, a correlation beyond 4 / sqrt(1500) has a chance of about 1 in 700.
    const limit = 4 / Math.sqrt(surveys);
    draws.forEach((first, i) => {
      expect(Math.abs(correlation(first.slice(1), first.slice(0, -1)))).toBeLessThan(limit);
      for (const second of draws.slice(0, i)) expect(Math.abs(correlation(first, second))).toBeLessThan(limit);
      // The mean of n uniforms has the standard error 1 / sqrt(12 n).
      expect(Math.abs(mean(first) - 0.5)).toBeLessThan(4 / Math.sqrt(12 * surveys));
    });
  });

  it("the first draws of streams with similar names do not go together", () => {
    const pairs = Array.from({ length: 2000 }, (_, base) => [
      randomStream(seedFor(base, "name a")).uniform(),
      randomStream(seedFor(base, "name b")).uniform(),
    ]);
    const [first, second] = [0, 1].map((side) => pairs.map((pair) => pair[side] as number)) as [number[], number[]];
    expect(Math.abs(correlation(first, second))).toBeLessThan(4 / Math.sqrt(2000));
  });
});
