import { describe, expect, it } from "vitest";
import type { Row } from "../cli/small-survey.js";
import { columnsOf, districtRows, report, wasting } from "./silent-columns.js";

const rows = districtRows();
const unique: Row[] = rows.map((row, i) => ({ ...row, cluster: String(101 + (i % 36)) }));

describe("clusters numbered anew in each of three districts", () => {
  it("are refused by names alone, with both numbers of clusters and what to write", async () => {
    const { code, said } = await report(rows);
    expect(code).toBe(2);
    expect(said.join("\n")).toMatch(/12 of the 12 cluster labels in "cluster" .*district.*36/s);
    expect(said.join("\n")).toContain("within:");
  });

  it("are 36 clusters where the settings say in which column the numbers start anew, told at the terminal and in the report", async () => {
    const reported = await report(rows, columnsOf({ cluster: "{ column: cluster, within: district }" }));
    expect(reported.code).toBe(0);
    expect(reported.results.design.clusters).toBe(36);
    expect(reported.notes.get("clusters-within")).toEqual({ column: "district", labels: 12, clusters: 36 });
    expect(reported.said.join("\n")).toContain("12 labels stand for 36 clusters");
    expect(JSON.stringify(reported.results)).not.toContain("Tazvin");
  });

  it("are 12 where the settings say that they are the same, with another standard error", async () => {
    const apart = await report(rows, columnsOf({ cluster: "{ column: cluster, within: district }" }));
    const same = await report(rows, columnsOf({ cluster: "{ column: cluster, within: none }", area: "district" }));
    expect(same.results.design.clusters).toBe(12);
    expect(wasting(same).value).toBeCloseTo(wasting(apart).value as number, 12);
    expect(
      Math.abs((wasting(same).standardError as number) / (wasting(apart).standardError as number) - 1),
    ).toBeGreaterThan(0.1);
  });

  it("are told apart by the strata without being asked, in the checks as well", async () => {
    const reported = await report(rows, columnsOf({ stratum: "district" }));
    expect(reported.code).toBe(0);
    expect(reported.results.design).toMatchObject({ clusters: 36, strata: 3 });
    expect(reported.notes.get("clusters-within")).toEqual({ column: "district", labels: 12, clusters: 36 });
  });

  it("are joined to a list by their stratum", async () => {
    const found = await report(
      rows,
      `${columnsOf({ stratum: "district" })}planned:\n  clusters:\n    Ombrel: 12\n    Tazvin: 12\n    Yundeth: 13\n`,
    );
    const reached = found.results.checks.find(({ id }) => id === "clusters-reached");
    expect(reached?.quantities.find(({ id }) => id === "clusters-not-reached")?.value).toBe(1);
  });

  it("a single cluster in two strata counts in both, and that is said", async () => {
    const unique = rows.map((row) => ({ ...row, cluster: `${row.district?.[0]}${row.cluster}` }));
    const plain = await report(unique, columnsOf({ stratum: "district" }));
    expect(plain.results.design.clusters).toBe(36);
    expect([...plain.notes.keys()].filter((id) => id.startsWith("clusters-"))).toEqual([]);
    const slipped = unique.map((row, i) => (i === 7 ? { ...row, district: "Yundeth" } : row));
    const reported = await report(slipped, columnsOf({ stratum: "district" }));
    expect(reported.results.design.clusters).toBe(37);
    expect(reported.notes.get("clusters-in-several-strata")).toEqual({ count: 1 });
    expect(reported.said.join("\n")).toContain("one cluster more than there are labels");
  });
});

describe("labels of clusters in several spellings", () => {
  it("are 36 clusters and not 72, with the same figures, and that is said", async () => {
    const plain = await report(unique);
    for (const spell of [
      (label: string) => `${label}.0`,
      (label: string) => ` ${label}\u200b`,
      (label: string) => label.replace(/\d/g, (digit) => String.fromCharCode(0x0660 + Number(digit))),
      (label: string) => `0${label}`,
    ]) {
      const mixed = unique.map((row, i) => ({
        ...row,
        cluster: i % 72 < 36 ? spell(row.cluster ?? "") : (row.cluster ?? ""),
      }));
      const reported = await report(mixed);
      expect(reported.results.design.clusters).toBe(36);
      expect(wasting(reported)).toEqual(wasting(plain));
      expect(reported.said.join("\n")).toContain('In "cluster", 72 spellings were taken for 36 labels');
    }
  });
});

describe("lengths and heights in two half-filled columns", () => {
  const young = (row: (typeof rows)[number]) => Number(row.height) < 80;
  const split = rows.map(({ height = "", district: _, ...row }, i) => {
    const cluster = String(1 + (i % 36));
    return {
      ...row,
      cluster,
      length: young({ ...row, height }) ? height : "",
      height: young({ ...row, height }) ? "" : height,
    };
  });

  it("give the prevalence of one column of both, not that of the taller half, and say so", async () => {
    const whole = await report(
      split.map(({ length, ...row }) => ({
        ...row,
        height: length || row.height,
        position: length ? "lying" : "standing",
      })),
    );
    const halves = await report(split);
    expect(halves.code).toBe(0);
    expect(wasting(halves)).toMatchObject({
      n: 719,
      value: wasting(whole).value,
      standardError: wasting(whole).standardError,
    });
    const lengths = split.filter(({ length }) => length !== "").length;
    expect(halves.notes.get("halves-as-one")).toMatchObject({ first: 720 - lengths, second: lengths, both: 0 });
    expect(halves.said.join("\n")).toMatch(
      /"length or height" is read from two columns|read from two columns: "height"/,
    );
    expect(halves.said.join("\n")).toContain("measured lying");
  });
});

describe("a second weight", () => {
  it("is refused with both names, not ignored", async () => {
    const { code, said } = await report(
      rows.map((row) => ({ ...row, district: "", wgt: String(Number(row.weight) + 1) })),
    );
    expect(code).toBe(2);
    expect(said.join("\n")).toMatch(/More than one column .*weight.*wgt/);
  });
});

describe("ages that contradict dates of birth", () => {
  /** The survey with its ages in months as well, in completed months of its dates, changed for some rows. */
  const withAges = (change: (months: number, row: number) => number) =>
    unique.map((row, i) => {
      const days = (Date.parse(row.interview_date ?? "") - Date.parse(row.birth_date ?? "")) / 86_400_000;
      return { ...row, age_months: String(change(Math.floor(days / 30.4375), i)) };
    });
  const aged = columnsOf({ "age-months": "age_months" });

  it("nothing is said where they agree but for rounding", async () => {
    const reported = await report(
      withAges((months, row) => Math.max(0, months + ((row % 5) - 2))),
      aged,
    );
    expect(reported.code).toBe(0);
    expect(reported.notes.has("ages-apart")).toBe(false);
  });

  it("are refused where the dates of birth were shuffled", async () => {
    const months = withAges((own) => own).map((row) => row.age_months);
    const shuffled = unique.map((row, i) => ({ ...row, age_months: months[(i + 311) % months.length] as string }));
    const { code, said } = await report(shuffled, aged);
    expect(code).toBe(2);
    expect(said.join("\n")).toMatch(/In 6\d\d of the 720 rows .*"age_months" .*"birth_date"/);
  });

  it("are counted at the terminal and in the report where they are few", async () => {
    const reported = await report(
      withAges((months, row) => (row % 20 === 0 ? months + 12 : months)),
      aged,
    );
    expect(reported.code).toBe(0);
    expect(reported.notes.get("ages-apart")).toEqual({ count: 36, both: 720, months: 3 });
    expect(reported.said.join("\n")).toContain("In 36 rows of the 720");
  });
});

describe("a population smaller than the survey", () => {
  const stratified = columnsOf({ stratum: "district" });
  const clusters = (ombrel: number) => `clusters-in-population:\n  Ombrel: ${ombrel}\n  Tazvin: 300\n  Yundeth: 300\n`;

  it("fewer clusters than were reached are refused with both numbers; as many are not", async () => {
    const { code, said } = await report(unique, stratified + clusters(11));
    expect(code).toBe(2);
    expect(said.join("\n")).toContain("clusters-in-population > Ombrel is 11, and the survey has 12 clusters there");
    expect((await report(unique, stratified + clusters(12))).code).toBe(0);
    const whole = await report(unique, `${columnsOf()}clusters-in-population: 35\n`);
    expect(whole.said.join("\n")).toContain("clusters-in-population is 35, and the survey has 36 clusters there");
  });

  it("fewer children than were measured are refused; children outside the ages do not count", async () => {
    const children = (ombrel: number) =>
      `children-in-population:\n  Ombrel: ${ombrel}\n  Tazvin: 9000\n  Yundeth: 9000\n`;
    const { code, said } = await report(unique, stratified + children(239));
    expect(code).toBe(2);
    expect(said.join("\n")).toContain("children-in-population > Ombrel is 239, and the survey has 240 children there");
    expect((await report(unique, stratified + children(240))).code).toBe(0);
    expect((await report(unique, `${stratified + children(239)}ages:\n  from: 6\n`)).code).toBe(0);
  });

  it("strata are found in settings by another spelling, too", async () => {
    const { results } = await report(unique, stratified + clusters(40).replace("Ombrel", '"OMBREL "'));
    expect(results.settings.clustersInPopulation).toEqual({ Ombrel: 40, Tazvin: 300, Yundeth: 300 });
  });
});
