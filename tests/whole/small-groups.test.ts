import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, it } from "vitest";
import { parseSurveyFile } from "../../src/describe/survey-file.js";
import { readCsv } from "../../src/read/csv.js";
import { renderFiles } from "../../src/render/files.js";
import { loadWords } from "../../src/render/words.js";
import { buildReport } from "../../src/report.js";
import type { Results } from "../../src/results/schema.js";

const sample = (name: string): string => readFileSync(join(import.meta.dirname, "../../sample-input", name), "utf8");

/** The sample with a team of 8 children, a camp of about ten and a district of ten: each small enough to know a child in. */
function withSmallGroups(): string {
  const [header = "", ...rows] = sample("quillmar.csv").trimEnd().split("\n");
  const at = (name: string): number => header.split(",").indexOf(name);
  const changed = rows.map((row, i) => {
    const cells = row.split(",");
    if (i < 8) cells[at("visit/team_code")] = "T9";
    if (i % 97 === 0) cells[at("place/kind")] = "smallcamp";
    if (i >= 100 && i < 110) cells[at("place/district")] = "Smallmoor";
    return cells.join(",");
  });
  return [header, ...changed, ""].join("\n");
}

const yaml = sample("quillmar.yaml").replace(/^(?:clusters|planned|clusters-in-population):\n(?:[ ].*\n)+/gm, "");
const small = ["T9", "smallcamp", "Smallmoor"];

let results: Results;
let tables: ReadonlyMap<string, readonly (readonly string[])[]>;

beforeAll(async () => {
  const table = await readCsv(new TextEncoder().encode(withSmallGroups()), "q.csv");
  const surveyFile = parseSurveyFile(yaml, "q.yaml");
  results = buildReport({ table, surveyFile, settingsSha256: null, date: null, version: "0" }).results;
  const { files } = await renderFiles(results, loadWords("en"), null);
  const csv = files.filter(({ name }) => name.endsWith(".csv"));
  tables = new Map(csv.map(({ name, content }) => [name, parse(String(content), { bom: true }) as string[][]]));
}, 60_000);

describe("groups of a few children", () => {
  it("are in the survey, in tables and in results", () => {
    for (const label of small) {
      expect([...tables.values()].flat(2), label).toContain(label);
      expect(JSON.stringify(results), label).toContain(`"${label}"`);
    }
  });

  it("have no number but that of their children in any table", () => {
    let looked = 0;
    for (const [name, [header = [], ...rows]] of tables) {
      for (const row of rows.filter((cells) => cells.some((cell) => small.includes(cell)))) {
        looked++;
        const numbers = row.filter((cell, at) => /^-?\d/.test(cell) && !/clusters|days/i.test(header[at] ?? ""));
        expect(numbers.length, `${name}: ${row.join(" | ")}`).toBeLessThanOrEqual(1);
        expect(Number(numbers[0] ?? 0), `${name}: ${row.join(" | ")}`).toBeLessThan(25);
      }
    }
    expect(looked).toBeGreaterThan(30);
  });

  it("have none in the checks' groups and charts either", () => {
    for (const check of results.checks) {
      for (const { label, n, quantities } of check.groups) {
        if (!small.includes(label)) continue;
        expect(n, check.id).toBeLessThan(25);
        for (const { value, interval, chance, probability } of quantities) {
          expect([value, interval, chance, probability], check.id).toEqual([null, undefined, undefined, undefined]);
        }
      }
      for (const chart of check.charts) {
        if (chart.kind === "lines") expect(chart.panels.some(({ label }) => small.includes(String(label)))).toBe(false);
        if (chart.kind !== "intervals") continue;
        const rows = chart.rows.filter(({ label }) => small.includes(String(label)));
        expect(
          rows.every(({ value, low, high }) => value === null && low === null && high === null),
          chart.id,
        ).toBe(true);
      }
    }
  });

  it("cannot be worked out by leaving parts of the survey out", () => {
    const scenarios = results.consequence?.scenarios ?? [];
    const teams = scenarios.filter(({ id }) => id.startsWith("leave-out-team/"));
    expect(teams.map(({ id }) => id)).toContain("leave-out-team/small");
    expect(teams.map(({ id }) => id)).not.toContain("leave-out-team/T9");
    // Seven teams: with all the other six, the seventh would be the rest.
    expect(teams.filter(({ outcomes }) => outcomes.length > 0)).toHaveLength(5);
    const said = teams.find(({ id }) => id.endsWith("/small"));
    expect(said).toMatchObject({ outcomes: [], reason: { id: "consequence.reason.small-parts" } });
  });

  it("cannot be worked out from the prevalences: what is not shown of a split is 25 children or more", () => {
    let withheld = 0;
    for (const { id, overall, subgroups } of results.estimates) {
      for (const { by, cells } of subgroups) {
        const hidden = cells.filter(({ value }) => value === null);
        if (hidden.length === 0) continue;
        withheld++;
        const rest = hidden.reduce((sum, { n }) => sum + n, 0);
        expect(hidden.length > 1 && rest >= 25, `${id} by ${by}: ${rest} of ${overall?.n}`).toBe(true);
      }
    }
    expect(withheld).toBeGreaterThan(20);
  });
});
