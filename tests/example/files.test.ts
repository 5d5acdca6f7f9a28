import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { exampleFiles } from "../../src/example/files.js";
import { columns } from "../../src/example/to-csv.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

const folder = join(import.meta.dirname, "../../sample-input");
const files = exampleFiles();

describe("sample-input", () => {
  it("holds what the generator makes, byte for byte, and nothing else", () => {
    const there = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) =>
        join(entry.parentPath, entry.name)
          .slice(folder.length + 1)
          .replaceAll("\\", "/"),
      );
    // Files in other formats are made by their own tool.
    const generated = there.filter((name) => !name.startsWith("same-survey-five-ways/"));
    expect(generated.sort()).toEqual(files.map((file) => file.name).sort());
    for (const file of files) expect(readFileSync(join(folder, file.name), "utf8"), file.name).toBe(file.content);
  });

  it("says everywhere that it is invented", () => {
    for (const file of files.filter(({ name }) => !name.endsWith(".csv"))) expect(file.content).toMatch(/invented/i);
  });

  it.each(files.filter((file) => file.name.endsWith(".yaml") && !file.name.endsWith("compare.yaml")))(
    "$name is accepted and names columns of its data",
    (file) => {
      const { values } = parseSurveyFile(file.content, file.name);
      expect(values.invented).toBe(true);
      const below = file.name.slice(0, file.name.lastIndexOf("/") + 1);
      expect(files.map((f) => f.name)).toContain(`${below}${values.data}`);
      const names = new Set(columns.map((column) => column.name));
      const given = Object.values(values.columns ?? {}).map((role) =>
        typeof role === "object" && "column" in role ? role.column : role,
      );
      expect(given.length).toBeGreaterThan(10);
      for (const name of given) expect(names).toContain(name);
      for (const closed of ["child/first_name", "carer/phone"]) expect(given).not.toContain(closed);
    },
  );

  it("the twins have the same children in the same order, the faulty one four rows more", () => {
    const rows = (name: string): string[][] =>
      (files.find((file) => file.name === name)?.content ?? "")
        .trimEnd()
        .split("\n")
        .map((line) => line.split(","));
    const key = (row: readonly string[]): string =>
      ["place/cluster_no", "place/house_no", "child/line_no"]
        .map((name) => row[columns.findIndex((column) => column.name === name)])
        .join("/");
    const [faulty, clean] = [rows("quillmar.csv").map(key), rows("quillmar-clean.csv").map(key)];
    expect(faulty.length).toBe(clean.length + 4);
    expect([...new Set(faulty)]).toEqual(clean);
  });
});
