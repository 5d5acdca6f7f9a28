import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { z } from "zod";
import { loadInput } from "../../src/cli/input.js";
import { buildReport } from "../../src/report.js";
import { comparisonSchema } from "../../src/results/comparison.js";
import { type Results, resultsSchema } from "../../src/results/schema.js";

const root = join(import.meta.dirname, "../..");

describe.each([
  ["results", "version 3", resultsSchema, ["format", "version", "input", "settings", "sources"]],
  ["comparison", "version 1", comparisonSchema, ["format", "version", "surveys", "refused", "differences", "sources"]],
] as const)("the JSON Schema of %s.json", (file, version, source, required) => {
  const committed = JSON.parse(readFileSync(join(root, `src/results/${file}.schema.json`), "utf8"));

  it("is the one that the code checks against: `npm run schema` writes it again after a change", () => {
    const { title, ...schema } = committed;
    expect(title).toContain(version);
    expect(schema).toEqual(JSON.parse(JSON.stringify(z.toJSONSchema(source, { target: "draft-2020-12" }))));
  });

  it("names its draft and allows no key that is not in it", () => {
    expect(committed.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
    expect(committed.additionalProperties).toBe(false);
    expect(committed.required).toEqual(expect.arrayContaining([...required]));
  });
});

describe("the results of a run", () => {
  let results: Results;
  let text: string;
  beforeAll(async () => {
    const input = await loadInput(join(root, "sample-input/quillmar.yaml"));
    results = buildReport({ ...input, date: null, version: "0.0.0" }).results;
    text = JSON.stringify(results);
  });

  it("satisfy the schema, also after a journey through JSON: no number in them is none", () => {
    expect(resultsSchema.parse(results)).toEqual(results);
    expect(resultsSchema.parse(JSON.parse(text))).toEqual(results);
  });

  it("differ from the schema as soon as a key is added, taken away or of another kind", () => {
    const { madeOn: _, ...without } = results;
    const wrong: unknown[] = [
      { ...results, more: 1 },
      without,
      { ...results, madeOn: 20241019 },
      { ...results, children: { ...results.children, total: Number.NaN } },
    ];
    for (const one of wrong) expect(resultsSchema.safeParse(one).success).toBe(false);
  });

  it("tell what was read, how much of it was used, and with which settings", () => {
    const { rowsRead, rowsUsed, leftOut, sha256, settingsSha256 } = results.input;
    expect(sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(settingsSha256).toMatch(/^[0-9a-f]{64}$/);
    expect(rowsUsed + leftOut.reduce((sum, entry) => sum + entry.count, 0)).toBe(rowsRead);
    expect(results.settings).toMatchObject({ seed: 1, ageInMonths: "completed", positionRule: "age" });
  });

  it("hold numbers unrounded", () => {
    const value = results.estimates.find((estimate) => estimate.id === "wasting")?.overall?.value ?? 0;
    expect(value).toBeGreaterThan(0);
    expect(Number(value.toFixed(4))).not.toBe(value);
  });

  it("list every source that a check, an estimate or the scenarios cite", () => {
    const cited = [...results.checks, ...results.estimates].flatMap((part) => part.sources);
    const listed = new Set(results.sources.map((source) => source.id));
    for (const id of [...cited, ...(results.consequence?.sources ?? [])]) expect(listed, id).toContain(id);
    expect(listed.size).toBe(results.sources.length);
  });

  it("are the same for the same input", async () => {
    const input = await loadInput(join(root, "sample-input/quillmar.yaml"));
    expect(JSON.stringify(buildReport({ ...input, date: null, version: "0.0.0" }).results)).toBe(text);
  });

  it("name no child: no row number, and no identifier of a household", () => {
    expect(text).not.toMatch(/sheetRow|"row":/);
  });
});
