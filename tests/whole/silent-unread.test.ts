import { describe, expect, it } from "vitest";
import type { Row } from "../cli/small-survey.js";
import { columnsOf, districtRows, report, wasting } from "./silent-columns.js";

/** Clusters of one number each; the thinner half of the clusters speaks for three times as many children. */
const rows: Row[] = districtRows().map((row, i) => ({ ...row, cluster: String(101 + (i % 36)) }));
const thin = (() => {
  const means = Array.from({ length: 36 }, (_, c) =>
    rows.filter((__, i) => i % 36 === c).reduce((sum, row) => sum + Number(row.weight) / Number(row.height) ** 2, 0),
  );
  const middle = [...means].sort((a, b) => a - b)[18] as number;
  return means.map((mean) => mean < middle);
})();
const weighted = (name: string, weight: (cluster: number) => string): Row[] =>
  rows.map((row, i) => ({ ...row, [name]: weight(i % 36) }));
const threefold = (cluster: number) => (thin[cluster] ? "1.5" : "0.5");
const unread = (notes: ReadonlyMap<string, unknown>) => [...notes.keys()].filter((id) => id.startsWith("unread-"));

describe("a column that is not read and would move a main estimate", () => {
  it("a sampling weight that the settings leave out is told of with both prevalences, at the terminal and in the report", async () => {
    const survey = weighted("sampling_weight", threefold);
    const used = await report(survey, columnsOf({ "sampling-weight": "sampling_weight" }));
    const reported = await report(survey, columnsOf());
    expect(unread(used.notes)).toEqual([]);
    expect(reported.code).toBe(0);
    const told = reported.notes.get("unread-weight");
    expect(told).toMatchObject({ column: "sampling_weight", estimate: "wasting", without: wasting(reported).value });
    expect(told?.with).toBeCloseTo(wasting(used).value as number, 12);
    expect(reported.said.join("\n")).toMatch(/"sampling_weight" is not read\. .*wasting/i);
  });

  it("a column of another name that is the same throughout each cluster is tried as well, and told of by its name", async () => {
    const { notes } = await report(weighted("w_final", threefold));
    expect(notes.get("unread-weight")).toMatchObject({ column: "w_final" });
  });

  it("whole numbers are tried where the name speaks of a weight", async () => {
    const { notes } = await report(weighted("w_final", (cluster) => (thin[cluster] ? "1500" : "500")));
    expect(notes.get("unread-weight")).toMatchObject({ column: "w_final" });
  });

  it.each([
    ["one that hardly moves anything", "w_final", (cluster: number) => (1 + (cluster % 5) / 100).toFixed(2)],
    ["people of a cluster", "inhabitants", (cluster: number) => (thin[cluster] ? "1500" : "500")],
    ["numbers of clusters", "site", (cluster: number) => String(900 - cluster)],
    ["a code of two values", "kind", (cluster: number) => (thin[cluster] ? "1" : "2")],
    ["words", "village", (cluster: number) => `Village ${cluster}`],
    ["a number that differs within clusters is no weight", "income", () => ""],
  ])("%s: nothing is said", async (_, name, weight) => {
    const survey = weighted(name, weight).map((row, i) =>
      name === "income" ? { ...row, income: String(100.5 + ((i * 37) % 113)) } : row,
    );
    const { code, notes } = await report(survey, undefined);
    expect(code).toBe(0);
    expect(unread(notes)).toEqual([]);
  });

  it("clusters that the settings leave out are told of by the factor on the standard error", async () => {
    const reported = await report(rows, columnsOf({ cluster: "" }));
    const used = await report(rows, columnsOf());
    const { ratio, ...others } = reported.notes.get("unread-cluster") ?? {};
    expect(others).toEqual({ column: "cluster", estimate: "wasting" });
    expect(ratio).toBeCloseTo(
      (wasting(used).standardError as number) / (wasting(reported).standardError as number),
      12,
    );
    expect(ratio).toBeGreaterThan(1.2);
    expect(reported.said.join("\n")).toContain('"cluster" is not read');
  });

  it("villages are tried as clusters where none are named", async () => {
    const villages = rows.map(({ cluster = "", ...row }) => ({ ...row, village: `Village ${cluster}` }));
    const { notes } = await report(villages);
    expect(notes.has("no-cluster")).toBe(true);
    expect(notes.get("unread-cluster")).toMatchObject({ column: "village", estimate: "wasting" });
  });

  it("strata that the settings leave out are told of where they change the standard error, and only where clusters lie within them", async () => {
    const far = rows.map((row, i) => ({ ...row, stratum: thin[i % 36] ? "low" : "high" }));
    const reported = await report(far, columnsOf());
    const used = await report(far, columnsOf({ stratum: "stratum" }));
    expect(reported.notes.get("unread-stratum")).toMatchObject({ column: "stratum", estimate: "wasting" });
    expect(reported.notes.get("unread-stratum")?.ratio).toBeCloseTo(
      (wasting(used).standardError as number) / (wasting(reported).standardError as number),
      12,
    );
    const across = rows.map((row, i) => ({ ...row, stratum: i % 72 < 36 ? "low" : "high" }));
    expect(unread((await report(across, columnsOf({ cluster: "{ column: cluster, within: none }" }))).notes)).toEqual(
      [],
    );
  });

  it("no value of such a column is told, and no name that may be a person's", async () => {
    const survey = weighted("Ada Lovelace 0612345678", threefold);
    const { notes, results } = await report(survey);
    expect(notes.get("unread-weight")).toMatchObject({ column: "#11" });
    expect(JSON.stringify(results)).not.toContain("Lovelace");
  });
});

describe("cluster numbers repeated in a column that the settings do not name", () => {
  it("are asked about all the same", async () => {
    const { code, said } = await report(districtRows(), columnsOf());
    expect(code).toBe(2);
    expect(said.join("\n")).toContain("within: none");
  });
});
