import { describe, expect, it } from "vitest";
import { spread } from "../../src/checks/spread/index.js";
import type { Children } from "../../src/derive/children.js";
import { momentsOf } from "../../src/stats/moments.js";
import { randomStream } from "../../src/stats/random.js";
import { expectComplete, itHolds, resultOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { makeChildren } from "./make-children.js";

itHolds(spread);

/** The survey with weight-for-height of some children spread about the mean by a factor. */
function widened(children: Children, factor: number, which: (child: number) => boolean = () => true): Children {
  const column = children.indices["weight-for-height"];
  const z = column.z.map((value, child) => (which(child) ? -0.7 + factor * (value + 0.7) : value));
  const outsideFixed = Uint8Array.from(z, (value) => (Math.abs(value) > 5 ? 1 : 0));
  const changed = { ...column, z, outsideFixed };
  return { ...children, indices: { ...children.indices, "weight-for-height": changed } };
}

const sd = (result: ReturnType<typeof resultOf>) =>
  result.quantities.find(({ id }) => id === "standard-deviation-weight-for-height");

describe("spread", () => {
  it("is the plain standard deviation, with the textbook error for a sample without clusters", () => {
    const random = randomStream(8);
    const z = Float64Array.from({ length: 900 }, () => random.normal());
    const result = resultOf(spread, makeChildren({ count: 900, z: { "weight-for-height": z } }));
    expect(sd(result)?.value).toBeCloseTo(momentsOf(z).standardDeviation, 10);
    // SE(SD) = SD / sqrt(2 (n - 1)): 0.024 at n = 900, for normal values.
    const { low = 0, high = 0 } = sd(result)?.interval ?? {};
    expect((high - low) / (2 * 1.96)).toBeGreaterThan(0.021);
    expect((high - low) / (2 * 1.96)).toBeLessThan(0.027);
    expectComplete(result);
  });

  it.each([
    [1.1, "expected", "expected"],
    [1.4, "explain", "wide"],
    [1.9, "doubt", "wide"],
    [0.6, "explain", "narrow"],
  ])("weight-for-height %d times as wide: %s", (factor, reading, variant) => {
    const result = resultOf(spread, widened(cleanSurvey({ seed: 31 }), factor));
    expect(result.reading).toBe(reading);
    expect(result.finding.id).toBe(`checks.spread.finding.${variant}`);
    expectComplete(result);
  });

  it("names the one team whose measurements spread more", () => {
    const base = cleanSurvey({ seed: 32 });
    const result = resultOf(
      spread,
      widened(base, 1.5, (child) => base.team?.codes[child] === 1),
    );
    const noticed = result.groups.filter(({ by, reading }) => by === "team" && reading !== "expected");
    expect(noticed.map(({ label }) => label)).toEqual(["T2"]);
    expect(result.reading).toBe("explain");
    expectComplete(result);
  });

  it("shows ages, sexes, areas and teams, with the observed range only where one was published", () => {
    const result = resultOf(spread, cleanSurvey({ seed: 33 }));
    expect([...new Set(result.groups.map(({ by }) => by))]).toEqual(["sex", "age-group", "area", "team"]);
    const shown = result.charts.flatMap((chart) => (chart.kind === "intervals" ? [chart] : []));
    // 0.8 to 1.2 with training and supervision: Grange, Mock and Collins 2024.
    for (const { band } of shown) expect(band).toMatchObject({ low: 0.8, high: 1.2 });
    // 5th to 95th percentiles of 51 surveys: Mei and Grummer-Strawn 2007, abstract.
    expect(shown.map(({ id, bracket }) => [id, bracket?.low, bracket?.high])).toEqual([
      ["spread-weight-for-height", 1.08, 1.5],
      ["spread-height-for-age", 1.35, 1.95],
      ["spread-weight-for-age", 1.17, 1.46],
      ["spread-arm-for-age", undefined, undefined],
    ]);
  });
});
