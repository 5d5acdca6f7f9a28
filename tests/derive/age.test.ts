import { describe, expect, it } from "vitest";
import { agesOf, daysFromMonths, daysPerMonth, withinMonths } from "../../src/derive/age.js";
import { surveyOf } from "./fixture.js";

describe("ages", () => {
  it("are whole days between two dates, else months, else unknown", () => {
    const survey = surveyOf([
      { interviewDay: 20_000, birthDay: 19_269, ageMonths: 3 },
      { interviewDay: 20_000, ageMonths: 10 },
      { birthDay: 19_269, ageMonths: 0 },
      { interviewDay: 20_000 },
    ]);
    const ages = agesOf(survey);
    expect([...ages.days]).toEqual([731, 10.5 * 30.4375, 0.5 * 30.4375, Number.NaN]);
    expect([...ages.source]).toEqual([1, 2, 2, 0]);
  });

  it("read months as completed or exact, and a fraction always as exact", () => {
    expect(daysPerMonth).toBe(365.25 / 12);
    expect(daysFromMonths(12, "completed")).toBe(12.5 * 30.4375);
    expect(daysFromMonths(12, "exact")).toBe(365.25);
    expect(daysFromMonths(12.25, "completed")).toBe(12.25 * 30.4375);
  });

  it("lie within completed months, both ends inclusive", () => {
    // 59 completed months end with day 1826 (60 months are 1826.25 days); 6 months begin with day 183 (182.625).
    expect([1826, 1827].map((days) => withinMonths(days, 0, 59))).toEqual([true, false]);
    expect([59.99, 60].map((months) => withinMonths(months * daysPerMonth, 0, 59))).toEqual([true, false]);
    expect([182, 183].map((days) => withinMonths(days, 6, 59))).toEqual([false, true]);
    expect(withinMonths(Number.NaN, 0, 59)).toBe(false);
  });
});
