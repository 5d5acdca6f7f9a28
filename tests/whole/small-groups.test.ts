import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, it } from "vitest";
import { readData } from "../../src/read/read-data.js";
import { renderFiles } from "../../src/render/files.js";
import { loadWords } from "../../src/render/words.js";
import { buildReport } from "../../src/report.js";
import type { Results } from "../../src/results/schema.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

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
  const table = await readData(new TextEncoder().encode(withSmallGroups()), "q.csv");
  const surveyFile = parseSurveyFile(yaml, "q.yaml");
  results = buildReport({ table, surveyFile, settingsSha256: null, date: null, version: "0" }).results;
  const { files } = await renderFiles(results, loadWords("en"), null);
  const csv = files.filter(({ name }) => name.endsWith(".csv"));
  tables = new Map(csv.map(({ name, content }) => [name, parse(String(content), { bom: true }) as string[][]]));
}, 60_000);

describe("groups of a few children", () => {
  it("are named nowhere: not in a table, not in the results", () => {
    for (const label of small) {
      expect([...tables.values()].flat(2), label).not.toContain(label);
      expect(JSON.stringify(results), label).not.toContain(`"${label}"`);
    }
  });

  it("stand in the prevalences by a number, with their children and nothing else", () => {
    let looked = 0;
    for (const { subgroups } of results.estimates) {
      for (const cell of subgroups.flatMap(({ cells }) => cells)) {
        if (typeof cell.label === "string" || cell.label.id !== "group.number") continue;
        looked++;
        const { value, standardError, interval, designEffect, degreesOfFreedom, status } = cell;
        expect([value, standardError, interval, designEffect, degreesOfFreedom]).toEqual([
          null,
          null,
          null,
          null,
          null,
        ]);
        expect(status).toBe("withheld");
      }
    }
    expect(looked).toBeGreaterThan(30);
  });

  it("have no group of their own in any check", () => {
    for (const check of results.checks) for (const { label } of check.groups) expect(small).not.toContain(label);
  });

  it("cannot be worked out by leaving parts of the survey out", () => {
    const scenarios = results.consequence?.scenarios ?? [];
    const teams = scenarios.filter(({ id }) => id.startsWith("leave-out-team/"));
    expect(teams.map(({ id }) => id)).toContain("leave-out-team/small");
    expect(teams.map(({ id }) => id)).not.toContain("leave-out-team/T9");
    // Seven teams: with all the other six, the seventh would be the rest.
    expect(teams.filter(({ outcomes }) => outcomes.length > 0).length).toBeLessThanOrEqual(5);
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
        const shown = cells.reduce((sum, { n, value }) => (value === null ? sum : sum + n), 0);
        const rest = (overall?.n ?? 0) - shown;
        expect(rest, `${id} by ${by}: ${rest} of ${overall?.n}`).toBeGreaterThanOrEqual(25);
      }
    }
    expect(withheld).toBeGreaterThan(20);
  });
});
