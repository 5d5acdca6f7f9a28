import { describe, expect, it } from "vitest";
import { daysPerMonth } from "../../src/derive/age.js";
import { districts, teams } from "../../src/example/place.js";
import { cumulativeAge } from "../../src/example/population.js";
import type { FieldRecord } from "../../src/example/record.js";
import { type ExampleSurvey, generateSurvey } from "../../src/example/survey.js";
import { binomialTest } from "../../src/stats/binomial.js";
import { goodnessOfFit } from "../../src/stats/goodness-of-fit.js";
import { ageDaysOf } from "./observed.js";

const seeds = Array.from({ length: 30 }, (_, i) => 3000 + i);
const clean = seeds.map((seed) => generateSurvey({ seed }));

const tenths = (value: number): number => Math.round(value * 10);
const atWholeOrHalf = (record: FieldRecord): boolean => tenths(record.height) % 5 === 0;

function heightsOf(surveys: readonly ExampleSurvey[], team: string): FieldRecord[] {
  return surveys.flatMap((s) => s.records).filter((r) => r.team === team && !Number.isNaN(r.height));
}

/** Completed months of the children of a district that are of six months and more and of known age. */
function monthsOf(surveys: readonly ExampleSurvey[], district: string): number[] {
  return surveys
    .flatMap((survey) => survey.records)
    .filter((record) => record.district === district)
    .map((record) => Math.floor(ageDaysOf(record) / daysPerMonth))
    .filter((months) => months >= 6);
}

/** Chance of a completed age of a whole or half year, from six months. */
const atHalfYearByChance = (() => {
  let at = 0;
  let all = 0;
  cumulativeAge.forEach((share, day) => {
    const months = Math.floor(day / daysPerMonth);
    const part = share - (cumulativeAge[day - 1] ?? 0);
    if (months >= 6) all += part;
    if (months >= 6 && months % 6 === 0) at += part;
  });
  return at / all;
})();

/** How much heavier the scale reads per survey day: slope of written minus true weight. */
function drift(surveys: readonly ExampleSurvey[], team: string): { slope: number; standardError: number } {
  const points = surveys.flatMap((survey) =>
    survey.records
      .filter((record) => record.team === team && !Number.isNaN(record.weight))
      .map((record) => ({ x: record.day, y: record.weight - (survey.children[record.child]?.weight ?? Number.NaN) })),
  );
  const n = points.length;
  const meanX = points.reduce((sum, p) => sum + p.x, 0) / n;
  const meanY = points.reduce((sum, p) => sum + p.y, 0) / n;
  const squares = points.reduce((sum, p) => sum + (p.x - meanX) ** 2, 0);
  const slope = points.reduce((sum, p) => sum + (p.x - meanX) * (p.y - meanY), 0) / squares;
  const residual = points.reduce((sum, p) => sum + (p.y - meanY - slope * (p.x - meanX)) ** 2, 0) / (n - 2);
  return { slope, standardError: Math.sqrt(residual / squares) };
}

function sameRows(survey: ExampleSurvey): number {
  const seen = new Set<string>();
  const measured = survey.records.filter((r) => !Number.isNaN(r.weight + r.height + r.arm));
  for (const r of measured) {
    seen.add([r.cluster, r.house, r.sex, r.birthDay, r.ageMonths, r.weight, r.height, r.arm].join("|"));
  }
  return measured.length - seen.size;
}

describe("without faults, what would betray them is at chance", () => {
  it("last digits of weights, heights and arm circumferences are even, in every team", () => {
    for (const team of teams) {
      const records = clean.flatMap((survey) => survey.records).filter((record) => record.team === team);
      const digitCounts = (digit: (record: FieldRecord) => number): number[] => {
        const counts = new Array<number>(10).fill(0);
        for (const record of records) {
          const d = digit(record);
          if (!Number.isNaN(d)) counts[d] = (counts[d] as number) + 1;
        }
        return counts;
      };
      const even = new Array<number>(10).fill(0.1);
      // Of 18 such tests one falls below 0.0005 in about 1 of 100 sets of seeds.
      expect(
        goodnessOfFit(
          digitCounts((r) => tenths(r.height) % 10),
          even,
        ).probability,
      ).toBeGreaterThan(0.0005);
      expect(
        goodnessOfFit(
          digitCounts((r) => tenths(r.weight) % 10),
          even,
        ).probability,
      ).toBeGreaterThan(0.0005);
      expect(
        goodnessOfFit(
          digitCounts((r) => r.arm % 10),
          even,
        ).probability,
      ).toBeGreaterThan(0.0005);
    }
  });

  it("ages stand at whole and half years no oftener than the age distribution says, in every district", () => {
    for (const { name } of districts) {
      const months = monthsOf(clean, name);
      const at = months.filter((m) => m % 6 === 0).length;
      expect(binomialTest(at, months.length, atHalfYearByChance)).toBeGreaterThan(0.001);
    }
  });

  it("no scale drifts", () => {
    for (const team of teams) {
      const { slope, standardError } = drift(clean, team);
      expect(Math.abs(slope)).toBeLessThan(4 * standardError);
      expect(Math.abs(slope)).toBeLessThan(0.001);
    }
  });

  it("no child stands in the file twice", () => {
    for (const survey of clean) expect(sameRows(survey)).toBe(0);
  });
});

describe("each fault alone is there, of the strength asked for, and nothing else is", () => {
  /** Records in which the faulty survey differs from its clean twin, by child. */
  function changed(faulty: ExampleSurvey, twin: ExampleSurvey): { before: FieldRecord; after: FieldRecord }[] {
    const before = new Map(twin.records.map((record) => [record.child, record]));
    return faulty.records
      .map((after) => ({ before: before.get(after.child) as FieldRecord, after }))
      .filter((pair) => JSON.stringify(pair.before) !== JSON.stringify(pair.after));
  }

  it("one team rounds heights", () => {
    const faulty = seeds.map((seed) =>
      generateSurvey({ seed, faults: { heightRounding: { team: "T4", share: 0.7 } } }),
    );
    const heights = heightsOf(faulty, "T4");
    const share = heights.filter(atWholeOrHalf).length / heights.length;
    // 70 % rounded, and 20 % of the others end so by chance.
    expect(share).toBeGreaterThan(0.73);
    expect(share).toBeLessThan(0.79);
    faulty.forEach((survey, i) => {
      expect(survey.children).toEqual(clean[i]?.children);
      for (const { before, after } of changed(survey, clean[i] as ExampleSurvey)) {
        expect(after.team).toBe("T4");
        expect({ ...after, height: 0 }).toEqual({ ...before, height: 0 });
        expect(Math.abs(after.height - before.height)).toBeLessThanOrEqual(0.5 + 1e-9);
      }
    });
    const other = heightsOf(faulty, "T3");
    expect(binomialTest(other.filter(atWholeOrHalf).length, other.length, 0.2)).toBeGreaterThan(0.001);
  });

  it("one district heaps ages", () => {
    const fault = { district: "Yundeth", share: 0.6 };
    const faulty = seeds.map((seed) => generateSurvey({ seed, faults: { ageHeaping: fault } }));
    const months = monthsOf(faulty, "Yundeth");
    const at = months.filter((m) => m % 6 === 0).length / months.length;
    expect(at).toBeGreaterThan(0.55);
    expect(at).toBeLessThan(0.75);
    const years = months.filter((m) => m % 12 === 0).length / months.length;
    expect(years).toBeGreaterThan(0.3);
    faulty.forEach((survey, i) => {
      for (const { before, after } of changed(survey, clean[i] as ExampleSurvey)) {
        expect(after.district).toBe("Yundeth");
        expect(after.birthDay).toBeNaN();
        expect(after.ageMonths % 6).toBe(0);
        expect(after.ageMonths).toBeGreaterThanOrEqual(6);
        expect(after.ageMonths).toBeLessThan(60);
        expect(after.weight).toEqual(before.weight);
      }
    });
  });

  it("one scale drifts", () => {
    const fault = { team: "T2", kilogramsPerDay: 0.05 };
    const faulty = seeds.map((seed) => generateSurvey({ seed, faults: { scaleDrift: fault } }));
    const { slope, standardError } = drift(faulty, "T2");
    expect(Math.abs(slope - 0.05)).toBeLessThan(4 * standardError);
    faulty.forEach((survey, i) => {
      for (const { before, after } of changed(survey, clean[i] as ExampleSurvey)) {
        expect(after.team).toBe("T2");
        expect({ ...after, weight: 0 }).toEqual({ ...before, weight: 0 });
      }
    });
    expect(Math.abs(drift(faulty, "T1").slope)).toBeLessThan(0.001);
  });

  it("rows are entered twice, near the first entry", () => {
    seeds.forEach((seed, i) => {
      const survey = generateSurvey({ seed, faults: { duplicateRows: { count: 5 } } });
      expect(survey.records.length).toBe((clean[i]?.records.length ?? 0) + 5);
      expect(sameRows(survey)).toBe(5);
      const places = new Map<FieldRecord, number[]>();
      for (const [at, record] of survey.records.entries()) places.set(record, [...(places.get(record) ?? []), at]);
      const twice = [...places.values()].filter((at) => at.length > 1);
      expect(twice).toHaveLength(5);
      for (const at of twice) expect((at[1] as number) - (at[0] as number)).toBeLessThanOrEqual(10);
    });
  });

  it("a strength of nothing changes nothing", () => {
    const faults = {
      heightRounding: { team: "T4", share: 0 },
      ageHeaping: { district: "Yundeth", share: 0 },
      scaleDrift: { team: "T2", kilogramsPerDay: 0 },
      duplicateRows: { count: 0 },
    };
    seeds.slice(0, 5).forEach((seed, i) => {
      expect(generateSurvey({ seed, faults }).records).toEqual(clean[i]?.records);
    });
  });

  it("faults together are the faults alone: planting one does not move another's random numbers", () => {
    const heightRounding = { team: "T4", share: 0.7 };
    const scaleDrift = { team: "T2", kilogramsPerDay: 0.05 };
    const both = generateSurvey({ seed: 3000, faults: { heightRounding, scaleDrift } });
    const rounding = generateSurvey({ seed: 3000, faults: { heightRounding } });
    const drifting = generateSurvey({ seed: 3000, faults: { scaleDrift } });
    both.records.forEach((record, i) => {
      expect(record.height).toEqual(rounding.records[i]?.height);
      expect(record.weight).toEqual(drifting.records[i]?.weight);
    });
  });
});
