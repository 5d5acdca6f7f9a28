import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { loadInput } from "../../src/cli/input.js";
import { buildReport } from "../../src/report.js";
import { type Results, resultsSchema } from "../../src/results/schema.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { fiveWaysFiles, ways } from "./five-ways-files.js";
import { sampleFolder } from "./program.js";

const folder = join(sampleFolder, "same-survey-five-ways");

async function resultsOf(path: string): Promise<Results> {
  return buildReport({ ...(await loadInput(path)), date: null, version: "five-ways" }).results;
}

/**
 * What the five files may differ in: the file's name, size and hash, how its text was encoded and parted, what it came in, the
 * hash of the settings, the names that the settings give to the columns, and which row holds the names. Nothing else.
 */
function apartFromTheFile(results: Results): unknown {
  const { file, bytes, sha256, encoding, delimiter, container, settingsSha256, ...input } = results.input;
  const { columns, ...settings } = results.settings;
  expect(typeof file + typeof bytes + typeof sha256 + typeof settingsSha256).toBe("stringnumberstringstring");
  const { dataSha256, ...comparable } = results.comparable;
  expect(dataSha256).toBe(sha256);
  return {
    ...results,
    input,
    settings,
    comparable,
    notes: results.notes.filter(({ id }) => id !== "input.note.header-row"),
  };
}

describe("one survey in five kinds of files", () => {
  it("gives one results.json, apart from the file's own facts and the columns' names", async () => {
    const first = await resultsOf(join(folder, "comma.yaml"));
    expect(resultsSchema.safeParse(first).success).toBe(true);
    expect(first.children.total).toBeGreaterThan(150);
    expect(first.input.container).toBeUndefined();
    const facts = [];
    for (const way of ways.slice(1)) {
      const results = await resultsOf(join(folder, `${way}.yaml`));
      expect(resultsSchema.safeParse(results).success, way).toBe(true);
      expect(apartFromTheFile(results), way).toEqual(apartFromTheFile(first));
      expect(results.input.sha256, way).not.toBe(first.input.sha256);
      const { encoding, delimiter, container } = results.input;
      facts.push({ encoding, delimiter, container });
    }
    expect(facts).toEqual([
      { encoding: "windows-1252", delimiter: ";", container: undefined },
      { encoding: "utf-8", delimiter: "none", container: { kind: "xlsx", table: "Children", headerRow: 3 } },
      { encoding: "utf-8", delimiter: ",", container: { kind: "zip", table: "survey-children", joined: ["survey"] } },
      { encoding: "utf-8", delimiter: "none", container: { kind: "parquet" } },
    ]);
  });

  it("differs where one value of one file differs", async () => {
    const here = emptyFolder();
    const text = readFileSync(join(folder, "comma.csv"), "utf8");
    const [header = "", ...lines] = text.split("\n");
    const at = header.split(",").indexOf("child/weight_kg");
    const changed = lines.map((line, i) => {
      const cells = line.split(",");
      if (i === 7) cells[at] = (Number(cells[at]) + 0.1).toFixed(1);
      return cells.join(",");
    });
    writeFileSync(join(here, "comma.csv"), [header, ...changed].join("\n"));
    writeFileSync(join(here, "comma.yaml"), readFileSync(join(folder, "comma.yaml")));
    const [one, other] = [await resultsOf(join(here, "comma.yaml")), await resultsOf(join(folder, "comma.yaml"))];
    expect(apartFromTheFile(one)).not.toEqual(apartFromTheFile(other));
  });

  it("holds the columns that no setting names in no results", async () => {
    for (const way of ways) {
      const text = JSON.stringify(await resultsOf(join(folder, `${way}.yaml`)));
      expect(text, way).not.toMatch(/name not kept|nom non conservé/);
    }
  });

  it("goes through the command line as a user calls it", async () => {
    const all: unknown[] = [];
    for (const name of ["form.yaml", "workbook.yaml"]) {
      const called = await call(["report", join(folder, name), "--json", "-"]);
      expect(called.code, called.err).toBe(0);
      all.push(apartFromTheFile(resultsSchema.parse(JSON.parse(called.out))));
    }
    expect(all[0]).toEqual(all[1]);
  });

  it("is what the tool writes: settings and text files byte for byte, the packed ones by what they give", () => {
    const written = fiveWaysFiles().filter(({ name }) => /\.(?:csv|yaml|parquet)$/.test(name));
    expect(written).toHaveLength(8);
    for (const { name, content } of written)
      expect(Buffer.from(content).equals(readFileSync(join(folder, name))), name).toBe(true);
  });
});
