import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { dayMonthExchanged } from "../../src/checks/implausible-values/row-changes.js";
import { nearCentre, suggestionsFor } from "../../src/checks/implausible-values/row-suggestions.js";
import { rowsOf } from "../../src/checks/implausible-values/rows.js";
import { suspectsOf } from "../../src/checks/implausible-values/suspects.js";
import type { Children } from "../../src/derive/children.js";
import { derive } from "../../src/derive/derive.js";
import { type GrowthTableId, growthTable } from "../../src/derive/growth-standards/growth-table.js";
import { lookUp } from "../../src/derive/growth-standards/look-up.js";
import { type ChangedColumns, rescore } from "../../src/derive/rescore.js";
import { valueAtZ } from "../../src/derive/z-score.js";
import { describe as describeSurvey } from "../../src/describe/describe.js";
import { readData } from "../../src/read/read-data.js";
import type { Message } from "../../src/results/schema.js";
import type { SurveySettings } from "../../src/settings/settings.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

const width = 3;
let clean: Children;
let settings: SurveySettings;

beforeAll(async () => {
  const file = (ending: string) =>
    readFileSync(join(import.meta.dirname, `../../sample-input/quillmar-clean.${ending}`));
  const survey = describeSurvey(
    await readData(file("csv"), "c.csv"),
    parseSurveyFile(file("yaml").toString(), "c.yaml"),
  );
  clean = derive(survey).children;
  settings = survey.settings;
});

const times = (column: { readonly values: Float64Array } | null, factor: number): Float64Array =>
  (column?.values ?? new Float64Array(0)).map((value) => value * factor);
const valuesOf = (column: { readonly values: Float64Array } | null): Float64Array => times(column, 1);

/** Suggestions for every child, the same slip planted in each; the survey's means are those of the clean survey. */
function planted(changed: ChangedColumns, also: Partial<Children> = {}) {
  const slipped: Children = { ...rescore(clean, changed, width), ...also };
  const listed = new Set(rowsOf(slipped, settings).map((row) => row.sheetRow));
  const all = Array.from({ length: clean.count }, (_, i) => i);
  const said = suggestionsFor(suspectsOf(slipped, all, width), clean, settings);
  const rows = all.filter((i) => listed.has(clean.sheetRow[i] as number));
  const ids = rows.map((i) => said[i]?.id ?? "none");
  const share = (id: string): number => ids.filter((own) => own === id).length / ids.length;
  return { said, rows, share, wrong: (id: string) => 1 - share(id) - share("none") };
}

// Kilograms of a pound and centimetres of an inch: international yard and pound agreement of 1959 (exact).
const pound = 0.45359237;
const inch = 2.54;

describe("a slip planted in every child of the clean sample", () => {
  // At least this share of the listed rows is told rightly, and at most that share wrongly: found by counting here.
  it.each([
    ["weight ten times too large", () => ({ weight: times(clean.weight, 10) }), "decimal", 0.9],
    ["weight ten times too small", () => ({ weight: times(clean.weight, 0.1) }), "decimal", 0.9],
    ["height ten times too large", () => ({ height: times(clean.height, 10) }), "decimal", 0.9],
    ["height ten times too small", () => ({ height: times(clean.height, 0.1) }), "decimal", 0.9],
    ["arm ten times too large", () => ({ arm: times(clean.arm, 10) }), "decimal", 0.9],
    ["arm in centimetres", () => ({ arm: times(clean.arm, 0.1) }), "decimal", 0.9],
    ["weight in grams", () => ({ weight: times(clean.weight, 1000) }), "other-unit", 0.9],
    ["height in metres", () => ({ height: times(clean.height, 0.01) }), "other-unit", 0.9],
    ["weight in pounds", () => ({ weight: times(clean.weight, 1 / pound) }), "pounds", 0.6],
    ["height in inches", () => ({ height: times(clean.height, 1 / inch) }), "inches", 0.9],
    [
      "weight and height exchanged",
      () => ({ weight: valuesOf(clean.height), height: valuesOf(clean.weight) }),
      "swapped",
      0.9,
    ],
    ["height and arm exchanged", () => ({ height: valuesOf(clean.arm), arm: valuesOf(clean.height) }), "swapped", 0.85],
    [
      "height and an arm in centimetres exchanged",
      () => ({ height: times(clean.arm, 0.1), arm: times(clean.height, 10) }),
      "swapped",
      0.85,
    ],
  ] as const)("%s", (_, change, id, least) => {
    const { rows, share, wrong } = planted(change());
    expect(rows.length).toBeGreaterThan(700);
    expect(share(`suggestion.${id}`)).toBeGreaterThan(least);
    expect(wrong(`suggestion.${id}`)).toBeLessThan(0.01);
  });

  it.each([
    ["years", (days: number) => (Math.floor(days / 365.25) + 0.5) * 30.4375, 0.8],
    ["days", (days: number) => (Math.round(days) + 0.5) * 30.4375, 0.9],
  ] as const)("age in %s for months", (unit, written, least) => {
    const ageSource = new Uint8Array(clean.count).fill(2);
    const { share, wrong } = planted({ ageDays: clean.ageDays.map(written) }, { ageSource });
    expect(share(`suggestion.age-${unit}`)).toBeGreaterThan(least);
    expect(wrong(`suggestion.age-${unit}`)).toBeLessThan(0.01);
  });

  it("day and month of the birth date exchanged, where that shows at all", () => {
    const birthDay = (clean.birthDay ?? new Float64Array(0)).map(dayMonthExchanged);
    const age = birthDay.map((day, i) => (clean.interviewDay?.[i] ?? Number.NaN) - day);
    const ageDays = age.map((days) => (days >= 0 ? days : Number.NaN));
    const ageSource = Uint8Array.from(ageDays, (days) => (Number.isNaN(days) ? 0 : 1));
    const { rows, said, share, wrong } = planted({ ageDays }, { birthDay, ageSource });
    expect(rows.length).toBeGreaterThan(10);
    expect(share("suggestion.day-month")).toBeGreaterThan(0.7);
    expect(wrong("suggestion.day-month")).toBeLessThan(0.01);
    const first = rows.find((i) => said[i] !== null) as number;
    const day = new Date((clean.birthDay?.[first] as number) * 86_400_000).toISOString().slice(0, 10);
    expect(said[first]?.values.date).toBe(day);
  });

  it("names the column, what stands there and what would fit", () => {
    const { said, rows } = planted({ weight: times(clean.weight, 0.1) });
    const child = rows.find((i) => said[i] !== null) as number;
    const weight = clean.weight?.values[child] as number;
    expect(said[child]?.values.column).toBe("child/weight_kg");
    expect(said[child]?.values.now).toEqual({ id: "suggestion.kilogram", values: { value: weight } });
    const { value } = (said[child]?.values.was as Message | undefined)?.values ?? {};
    expect(value).toBeCloseTo(weight / 10, 9);
  });
});

describe("no suggestion", () => {
  it("in the clean sample, where nothing is listed", () => expect(rowsOf(clean, settings)).toEqual([]));

  /** The measure at a z-score of the standard, for every child. */
  const measureAt = (table: (i: number) => GrowthTableId, key: (i: number) => number, z: (i: number) => number) =>
    Float64Array.from({ length: clean.count }, (_, i) => {
      const own = growthTable(table(i));
      const found = lookUp(own, clean.sex[i] as 1 | 2, key(i));
      return found === null ? Number.NaN : valueAtZ(z(i), found.l, found.m, found.s, own.restricted);
    });

  // A true extreme must not be explained away: children of the sample made very short, very tall, very thin or very
  // heavy, the other measures in keeping.
  it.each([
    ["very short", -6.5, null, 0.02],
    ["very tall", 6.4, null, 0.02],
    ["very thin", null, -5.3, 0.002],
    ["thinner still", null, -6, 0.002],
    ["very heavy", null, 5.3, 0.002],
  ] as const)("for children who are truly %s, but for one in fifty at most", (_, tall, heavy, most) => {
    const { z } = clean.indices["weight-for-height"];
    const height =
      tall === null
        ? clean.standardHeight
        : measureAt(
            () => "length-height-for-age",
            (i) => clean.ageDays[i] as number,
            () => tall,
          );
    const weight = measureAt(
      (i) => (clean.positionWanted[i] === 1 ? "weight-for-length" : "weight-for-height"),
      (i) => height[i] as number,
      (i) => heavy ?? (z[i] as number),
    );
    const arm = measureAt(
      () => "arm-circumference-for-age",
      (i) => clean.ageDays[i] as number,
      () => 0.8 * (heavy ?? 0),
    ).map((centimetres) => centimetres * 10);
    const changed = { height, weight, position: clean.positionWanted, ...(heavy === null ? {} : { arm }) };
    const { rows, share } = planted(changed);
    expect(rows.length).toBeGreaterThan(800);
    expect(1 - share("none")).toBeLessThan(most);
  });

  it("where two slips explain the same record", () => {
    // A child who should weigh about 8.4 kg: 18.4 kg is that with a wrong ten, and 8.3 kg read in pounds.
    const child = clean.standardHeight.findIndex(
      (height, i) => Math.abs(height - 71) < 1.5 && clean.positionWanted[i] === 1,
    );
    const weight = valuesOf(clean.weight);
    weight[child] = 18.4;
    for (const kilograms of [18.4 * pound, 18.4 - 10]) {
      const own = valuesOf(clean.weight);
      own[child] = kilograms;
      const { z, centre } = rescore(clean, { weight: own }, width).indices["weight-for-height"];
      expect(Math.abs((z[child] as number) - centre)).toBeLessThan(nearCentre);
    }
    const slipped = rescore(clean, { weight }, width);
    expect(rowsOf(slipped, settings).map((row) => row.sheetRow)).toEqual([clean.sheetRow[child]]);
    expect(suggestionsFor(suspectsOf(slipped, [child], width), clean, settings)).toEqual([null]);
  });

  it("where a change would take the child out of the survey's ages", () => {
    const ageSource = new Uint8Array(clean.count).fill(2);
    const ageDays = clean.ageDays.map((days) => (Math.round(days) + 0.5) * 30.4375);
    const slipped: Children = { ...rescore(clean, { ageDays }, width), ageSource };
    const old = Array.from(clean.ageMonths, (months, i) => [months, i] as const).filter(([months]) => months > 30);
    const rows = old.map(([, i]) => i);
    const narrow = { ...settings, ageRange: { from: 0, to: 23 } };
    const said = suggestionsFor(suspectsOf(slipped, rows, width), clean, narrow);
    expect(said.filter((one) => one?.id === "suggestion.age-days")).toEqual([]);
  });
});

describe("position", () => {
  // 0.7 cm moves a z-score by a third at most, so that it explains a value only just beyond a limit.
  it("explains a height just beyond the limit where the survey's own mean is low", () => {
    const child = Array.from(clean.ageMonths).findIndex((months) => months > 30 && months < 40);
    const table = growthTable("length-height-for-age");
    const { l, m, s } = lookUp(table, clean.sex[child] as 1 | 2, clean.ageDays[child] as number) ?? {
      l: 1,
      m: 0,
      s: 1,
    };
    const height = valuesOf(clean.height);
    height[child] = valueAtZ(-6.1, l, m, s, table.restricted) + 0.7;
    const position = (clean.position ?? new Uint8Array(clean.count)).slice();
    position[child] = 1;
    const slipped = rescore(clean, { height, position }, width);
    expect(slipped.indices["height-for-age"].z[child]).toBeCloseTo(-6.1, 6);
    const low = (index: "height-for-age" | "weight-for-age"): object => ({ ...clean.indices[index], centre: -4 });
    const indices = {
      ...clean.indices,
      "height-for-age": low("height-for-age"),
      "weight-for-age": low("weight-for-age"),
    };
    const weight = valuesOf(clean.weight);
    const wanted = lookUp(growthTable("weight-for-height"), clean.sex[child] as 1 | 2, height[child] as number);
    weight[child] = wanted === null ? Number.NaN : wanted.m;
    const both = rescore(slipped, { weight, arm: new Float64Array(clean.count).fill(Number.NaN) }, width);
    const said = suggestionsFor(suspectsOf(both, [child], width), { ...clean, indices } as Children, settings);
    expect(said[0]?.id).toBe("suggestion.position.standing");
  });
});
