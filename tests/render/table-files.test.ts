import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { comparisonTables } from "../../src/render/comparison-tables.js";
import { separatorsOf } from "../../src/render/csv.js";
import { allTables } from "../../src/render/files.js";
import { tableFiles } from "../../src/render/table-files.js";
import { loadWords } from "../../src/render/words.js";
import type { Table } from "../../src/results/schema.js";
import { sampleComparison } from "./sample-comparison.js";
import { sampleResults } from "./sample-results.js";
import sampleWords from "./sample-words.json" with { type: "json" };

/** Every column named in a dictionary, by file; fails where a line is neither a file, a column nor a sentence. */
function columnsIn(dictionary: string): Map<string, string[]> {
  const found = new Map<string, string[]>();
  let columns: string[] | undefined;
  for (const line of dictionary.replace(/^\uFEFF/, "").split("\r\n")) {
    if (/^[\w-]+\.csv$/.test(line)) {
      columns = [];
      found.set(line, columns);
    } else if (line.startsWith("  ")) columns?.push(line.trim());
  }
  return found;
}

describe.each(["en", "fr", "ar"])("the dictionary of the tables, in %s", (language) => {
  const words = loadWords(language, sampleWords);
  const check = (tables: readonly Table[]): void => {
    const files = tableFiles(tables, "A title", words);
    const texts = new Map(files.map(({ name, content }) => [name, String(content)]));
    const dictionary = texts.get("tables/README.txt") ?? "";
    expect(dictionary.startsWith("\uFEFF")).toBe(true);
    expect(dictionary).not.toMatch(/[^\r]\n|\[\[|undefined|[\u2066-\u2069]/);
    const listed = columnsIn(dictionary);
    expect([...listed.keys()].sort()).toEqual(
      files
        .map(({ name }) => name.replace("tables/", ""))
        .filter((name) => name.endsWith(".csv"))
        .sort(),
    );
    for (const [file, columns] of listed) {
      const { cell } = separatorsOf(language);
      const [header = []] = parse(texts.get(`tables/${file}`) ?? "", { bom: true, delimiter: cell }) as string[][];
      expect(columns.length, file).toBe(header.length);
      header.forEach((name, i) => {
        const own = name.replace(/^'/, "");
        expect(columns[i]?.startsWith(own), `${file}: ${own}: ${columns[i]}`).toBe(true);
        expect(columns[i]?.length).toBeGreaterThan(own.length);
      });
    }
  };

  it("names every file of a report and every one of its columns with a unit", () => check(allTables(sampleResults)));
  it("and those of a comparison", () => check(comparisonTables(sampleComparison(6, 2))));
});
