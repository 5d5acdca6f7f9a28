import { describe, expect, it } from "vitest";
import { birthDaysOf, calendarShares } from "../../src/checks/age-heaping/birth-days.js";
import { completedMonths, excessOf, myersOfMonths, windowOf } from "../../src/checks/age-heaping/heaping.js";
import { ageHeaping } from "../../src/checks/age-heaping/index.js";
import { runCheck } from "../../src/checks/run.js";
import { bookOf } from "../../src/disclosure/book.js";
import { sentencesOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";

const run = (children: Parameters<typeof runCheck>[1], settings = makeSettings()) =>
  runCheck(ageHeaping, children, settings).result;
const of = (result: ReturnType<typeof run>, id: string) => result.quantities.find((quantity) => quantity.id === id);
const day = (year: number, month: number, date: number) => Date.UTC(year, month - 1, date) / 86_400_000;

describe("age-heaping", () => {
  it("counts completed months by the calendar where there are two dates", () => {
    const birthDay = [day(2022, 3, 10), day(2022, 3, 11), day(2024, 2, 29), Number.NaN];
    const seen = [day(2024, 3, 10), day(2024, 3, 10), day(2024, 3, 29), day(2024, 3, 10)];
    const children = makeChildren({
      count: 4,
      interviewDay: seen,
      birthDay,
      ageDays: birthDay.map((born, i) => (seen[i] as number) - born),
      ageMonths: birthDay.map((born, i) => (Number.isNaN(born) ? 24.5 : ((seen[i] as number) - born) / 30.4375)),
      ageSource: [1, 1, 1, 2],
    });
    expect([...completedMonths(children)]).toEqual([24, 23, 1, 24]);
  });

  it("compares a multiple with its neighbours", () => {
    expect(windowOf(12, 3, 0, 59)).toMatchObject({ multiples: 4, expected: 4 / 28 });
    expect(windowOf(6, 2, 6, 59)).toMatchObject({ multiples: 9, expected: 9 / 43 });
    expect(windowOf(12, 3, 24, 30).expected).toBe(1 / 4);
    expect(excessOf(40, 280, 4 / 28)).toBeCloseTo(0, 12);
    expect(excessOf(70, 310, 4 / 28)).toBeCloseTo(30, 12);
  });

  it("gives R12 against even ages", () => {
    // 540 children of 6-59 months, 70 of them on 12, 24, 36 and 48: R12 = 70 / (540 * 4 / 54) = 1.75 (computed).
    const on = [12, 24, 36, 48];
    const off = Array.from({ length: 54 }, (_, i) => i + 6).filter((month) => !on.includes(month));
    const months = Array.from(
      { length: 540 },
      (_, i) => (i < 70 ? (on[i % 4] as number) : (off[i % 50] as number)) + 0.5,
    );
    const result = run(
      makeChildren({ count: 540, ageMonths: months, birthDay: null }),
      makeSettings({ ageRange: { from: 6, to: 59 } }),
    );
    expect(of(result, "whole-years-even-ratio")?.value).toBeCloseTo(1.75, 12);
    expect(result.finding.id).toBe("checks.age-heaping.finding.explain-years");
  });

  it("finds one area that heaps, and names no other", () => {
    const result = run(faultySurveys["one area heaps ages"]);
    const unusual = result.groups.filter((group) => group.by === "area" && group.reading !== "expected");
    expect(unusual.map((group) => group.label)).toEqual(["A2"]);
    expect(["explain", "doubt"]).toContain(result.reading);
  });

  it("names the place in which ages crowd before the teams that worked there", () => {
    const result = run(faultySurveys["one area heaps ages"]);
    const strongest = result.meaning.find(({ id }) => id === "checks.age-heaping.meaning.strongest");
    expect(strongest?.values.place).toEqual({ id: "checks.age-heaping.place.area", values: { label: "A2" } });
    expect(strongest?.values.known).toBe("yes");
    expect(strongest?.values.times).toBeGreaterThan(2);
    expect(result.finding.values.place).toEqual(strongest?.values.place);
    expect(sentencesOf(result).every((sentence) => sentence.length > 0)).toBe(true);
  });

  it("doubts ages that are heaped everywhere, in months", () => {
    const result = run(faultySurveys["ages heaped everywhere"]);
    expect([result.reading, result.finding.id]).toEqual(["doubt", "checks.age-heaping.finding.doubt-years"]);
    expect(of(result, "whipple-of-months")?.value).toBeGreaterThan(200);
    expect(of(result, "whole-years-from-months")?.value).toBeGreaterThan(0.4);
    expect(of(result, "whole-years-from-dates")).toBeUndefined();
  });

  it("finds birth dates on one day", () => {
    const result = run(faultySurveys["birth dates on the fifteenth"]);
    expect([result.reading, result.finding.id, result.finding.values.day]).toEqual([
      "doubt",
      "checks.age-heaping.finding.doubt-birth-days",
      15,
    ]);
  });

  it("expects the calendar's days of birth", () => {
    expect(calendarShares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 14);
    // Every day of four years once: exactly the expected shares.
    const birthDay = Array.from({ length: 1461 }, (_, i) => day(2019, 6, 1) + i);
    const children = makeChildren({ count: 1461, birthDay, ageSource: () => 1 });
    const days = birthDaysOf({ children, book: bookOf(children) });
    expect(days?.chiSquare).toBeCloseTo(0, 10);
    expect(days?.dissimilarity).toBeCloseTo(0, 12);
  });

  it("knows what the blended index is by chance", () => {
    const even = Float64Array.from({ length: 500 }, (_, i) => 10 + (i % 50));
    const { index, chance } = myersOfMonths(even, 1);
    expect(index).toBeCloseTo(0, 10);
    expect(chance.low).toBeLessThan(chance.expected);
    expect(chance.expected).toBeLessThan(chance.high);
    // Four times the children: half of what chance gives.
    const more = myersOfMonths(
      Float64Array.from({ length: 2000 }, (_, i) => 10 + (i % 50)),
      1,
    );
    expect(more.chance.expected).toBeCloseTo(chance.expected / 2, 10);
  });

  it("gives a chart of months with the multiples of six marked", () => {
    const [chart] = run(cleanSurvey({ seed: 51 })).charts;
    if (chart?.kind !== "counts-over") throw new Error("another chart was expected");
    expect(chart.bars).toHaveLength(60);
    expect(chart.bars.filter((bar) => bar.emphasis).map((bar) => bar.at)).toEqual([6, 12, 18, 24, 30, 36, 42, 48, 54]);
    const total = chart.bars.reduce((sum, bar) => sum + bar.count, 0);
    expect(chart.bars.reduce((sum, bar) => sum + bar.expected, 0)).toBeCloseTo(total, 8);
  });

  it("cannot tell where no whole year has neighbours", () => {
    expect(run(cleanSurvey({ seed: 52 }), makeSettings({ ageRange: { from: 0, to: 11 } })).reason?.id).toBe(
      "checks.age-heaping.cannot-tell.range",
    );
  });
});
