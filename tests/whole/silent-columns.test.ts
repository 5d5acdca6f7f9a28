import { describe, expect, it } from "vitest";
import { columnsOf, districtRows, report, wasting } from "./silent-columns.js";

const rows = districtRows();

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
