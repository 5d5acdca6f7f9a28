import { describe, expect, it } from "vitest";
import { generateSurvey } from "../../src/example/survey.js";
import { columns, toCsv } from "../../src/example/to-csv.js";
import { toRows } from "./to-rows.js";

const faults = {
  heightRounding: { team: "T4", share: 0.7 },
  ageHeaping: { district: "Yundeth", share: 0.6 },
  scaleDrift: { team: "T2", kilogramsPerDay: 0.08 },
  duplicateRows: { count: 4 },
};

describe.each([{ options: { seed: 11 } }, { options: { seed: 12, faults } }])("the file of $options", ({ options }) => {
  const survey = generateSurvey(options);
  const text = toCsv(survey);
  const lines = text.trimEnd().split("\n");

  it("has a header and a line for every record, all of the same width", () => {
    expect(lines).toHaveLength(survey.records.length + 1);
    for (const line of lines) expect(line.split(",")).toHaveLength(columns.length);
    expect(lines[0]).toBe(columns.map((column) => column.name).join(","));
    expect(text.endsWith("\n")).toBe(true);
  });

  it("writes no NaN, undefined, null or long tail of decimals", () => {
    expect(text).not.toMatch(/NaN|undefined|null|Infinity|Invalid/);
    expect(text).not.toMatch(/\.\d{5}/);
  });

  it("writes dates as real ISO days, births before visits and within five years of them", () => {
    for (const row of toRows(survey)) {
      const visit = row["visit/today"] as string;
      expect(visit).toMatch(/^2024-10-(0[7-9]|1[0-24-9])$/);
      const birth = row["child/birth_date"] as string;
      if (birth === "") continue;
      expect(new Date(`${birth}T00:00:00Z`).toISOString().slice(0, 10)).toBe(birth);
      expect(birth <= visit).toBe(true);
      expect(birth > "2019-10-06").toBe(true);
    }
  });

  it("writes an age in months only where there is no birth date, and says how it is known", () => {
    for (const row of toRows(survey)) {
      const [birth, months, how] = [row["child/birth_date"], row["child/age_months"], row["child/age_known_by"]];
      if (how === "calendar of events") expect([birth, months !== ""]).toEqual(["", true]);
      else if (how === "not known") expect([birth, months]).toEqual(["", ""]);
      else expect([birth !== "", months]).toEqual([true, ""]);
      if (months !== "") expect(Number.isInteger(Number(months)) && Number(months) < 60).toBe(true);
    }
  });

  it("writes measures in the steps of the instruments, and arms from six months only", () => {
    const tenth = /^(\d+(\.\d)?)?$/;
    for (const row of toRows(survey)) {
      expect(row["child/weight_kg"]).toMatch(tenth);
      expect(row["child/height_cm"]).toMatch(tenth);
      expect(row["child/arm_mm"]).toMatch(/^\d*$/);
      if (row["child/outcome"] !== "measured") {
        expect(row["child/weight_kg"]).toBe("");
        expect(row["child/height_cm"]).toBe("");
        expect(row["child/measured_how"]).toBe("");
      }
    }
  });

  it("keeps nobody's name or phone", () => {
    for (const row of toRows(survey)) {
      expect(row["child/first_name"]).toBe("name not kept");
      expect(row["carer/phone"]).toBe("phone not kept");
    }
  });

  it("comes out the same, byte for byte, and differently for another seed", () => {
    expect(toCsv(generateSurvey(options))).toBe(text);
    expect(toCsv(generateSurvey({ ...options, seed: options.seed + 1 }))).not.toBe(text);
  });
});
