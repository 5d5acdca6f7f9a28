import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { readData } from "../../src/read/read-data.js";
import { buildReport } from "../../src/report.js";
import { noChildren } from "../../src/results/group.js";
import { type Chart, type Quantity, type Results, resultsSchema } from "../../src/results/schema.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

/* Each of these once told of a few children; none may again. */

const sample = (name: string): string => readFileSync(join(import.meta.dirname, "../../sample-input", name), "utf8");
const yaml = sample("quillmar-clean.yaml").replace(/^(?:clusters|planned):\n(?:[ ].*\n)+/gm, "");

type Change = (cells: string[], at: (name: string) => number, row: number) => boolean;

/** The clean sample with its rows changed; a row is left out where the change says false. */
async function reportOf(change: Change): Promise<Results> {
  const [header = "", ...rows] = sample("quillmar-clean.csv").trimEnd().split("\n");
  const at = (name: string): number => header.split(",").indexOf(name);
  const changed = rows.flatMap((line, row) => {
    const cells = line.split(",");
    return change(cells, at, row) ? [cells.join(",")] : [];
  });
  const table = await readData(new TextEncoder().encode([header, ...changed, ""].join("\n")), "q.csv");
  const surveyFile = parseSurveyFile(yaml, "q.yaml");
  return buildReport({ table, surveyFile, settingsSha256: null, date: null, version: "0" }).results;
}

/** Ten infants are left, and one child is a hundred times as heavy as it can be for its height within what is possible. */
let results: Results;
let infants = 0;

beforeAll(async () => {
  results = await reportOf((cells, at, row) => {
    const young = (cells[at("child/birth_date")] ?? "") > "2024-04-10";
    if (young) infants += 1;
    if (row === 40) [cells[at("child/weight_kg")], cells[at("child/height_cm")]] = ["24.5", "88.0"];
    return !young || infants <= 10;
  });
}, 120_000);

const estimate = (id: string) => results.estimates.find((one) => one.id === id);
const charts = (): Chart[] => results.checks.flatMap((check) => check.charts);

describe("what is told of a few children", () => {
  it("is not the rest of a prevalence from six months on", () => {
    const scenario = results.consequence?.scenarios.find(({ id }) => id === "ages-covered/from-six-months");
    expect(scenario?.outcomes.filter(({ estimate: id }) => id === "stunting")).toEqual([]);
    expect(JSON.stringify([scenario?.reason, scenario?.note])).toContain("cell.tells-of-few");
  });

  it("is not one far-off z-score, by means or prevalences with and without it", () => {
    for (const id of ["mean-weight-for-height", "wasting", "overweight"]) {
      const rules = estimate(id)?.byExclusion ?? [];
      const beyond = rules.filter(({ cell }) => cell.n !== estimate(id)?.overall?.n);
      expect(beyond.length, id).toBeGreaterThan(0);
      for (const { cell, excluded } of beyond) {
        expect(cell, `${id}, ${excluded} excluded`).toMatchObject({
          value: null,
          standardError: null,
          status: "withheld",
        });
        expect(cell.reason?.values).toMatchObject({ limit: 25 });
      }
    }
    const spread = results.checks.find(({ id }) => id === "spread")?.quantities ?? [];
    const around = spread.filter(({ id }) => id === "standard-deviation-around-mean-weight-for-height");
    expect(around.every(({ value }) => value === null)).toBe(true);
  });

  it("is not the edge of a distribution: its outermost bars hold five children or more", () => {
    const panels = charts().flatMap((chart) => (chart.kind === "z-distribution" ? chart.panels : []));
    expect(panels.length).toBeGreaterThan(5);
    for (const { bins } of panels) {
      expect(bins[0]?.count).toBeGreaterThanOrEqual(5);
      expect(bins.at(-1)?.count).toBeGreaterThanOrEqual(5);
    }
  });

  it("is not a team's day: every point of a trend holds 25 children or more", () => {
    const points = charts().flatMap((chart) =>
      chart.kind === "lines" ? chart.panels.flatMap((one) => one.points) : [],
    );
    expect(points.length).toBeGreaterThan(20);
    for (const { n } of points) expect(n).toBeGreaterThanOrEqual(25);
  });

  it("is not a cluster: clusters are counted by their cases, two or more a bar", () => {
    const cases = charts().find(({ id }) => id === "clusters-differ-cases");
    if (cases?.kind !== "category-shares") throw new Error("the picture of cases is not there");
    const clusters = results.design.clusters ?? 0;
    for (const { bars } of cases.panels) for (const bar of bars) expect(bar.share * clusters).toBeGreaterThan(1.5);
    expect(charts().some(({ kind, id }) => kind === "counts-over" && id.startsWith("clusters-"))).toBe(false);
  });
});

/** Parts of the results that are about children and hold numbers, and the names of numbers that tell nothing of any. */
const told = ["quantities", "groups", "charts", "tables", "outcomes", "tippingPoints", "overall", "cell", "cells"];
const nothing =
  /^(?:level|at|from|to|lines|verticals|horizontals|bands|band|bracket|limits|excluded|published|step|span)$/;

/** Paths of numbers below a part about children that stand under no stated group. */
function unstated(part: unknown, path: string, isTold: boolean, isStated: boolean): string[] {
  if (typeof part === "number") return isTold && !isStated ? [path] : [];
  if (typeof part !== "object" || part === null) return [];
  const states = isStated || ("of" in part && part.of !== undefined);
  return Object.entries(part).flatMap(([name, value]) => {
    if (name === "values" || nothing.test(name)) return [];
    return unstated(value, `${path}.${name}`, isTold || told.includes(name), states);
  });
}

describe("a number without the children it speaks of", () => {
  it("stands nowhere in the results", () => {
    const { checks, estimates, consequence } = results;
    expect(unstated({ checks, estimates, consequence }, "results", false, false)).toEqual([]);
  });

  it("would be seen, were there one", () => {
    const check = { quantities: [{ id: "new-number", value: 3 }] };
    expect(unstated({ checks: [check] }, "results", false, false)).toEqual(["results.checks.0.quantities.0.value"]);
  });

  it("does not compile, and is no results.json", () => {
    // @ts-expect-error: the group is missing, and no plain text is one.
    const without: Quantity = { id: "new-number", unit: "count", value: 3 };
    // @ts-expect-error
    const made: Quantity = { id: "new-number", unit: "count", value: 3, of: "everybody" };
    expect(made.of).not.toBe(noChildren);
    const [first, ...others] = results.checks;
    const spoiled = { ...results, checks: [{ ...first, quantities: [without] }, ...others] };
    expect(resultsSchema.safeParse(spoiled).success).toBe(false);
    expect(resultsSchema.safeParse(results).success).toBe(true);
  });

  it("every group that is named is in the register, with 25 children or more", () => {
    const known = new Map(results.groups.map(({ id, n }) => [String(id), n]));
    const named = [...JSON.stringify([results.checks, results.estimates]).matchAll(/"of":"(group-\d+)"/g)].map(
      ([, id = ""]) => id,
    );
    expect(named.length).toBeGreaterThan(500);
    for (const id of new Set(named)) expect(known.get(id) ?? 0, id).toBeGreaterThanOrEqual(25);
  });
});
