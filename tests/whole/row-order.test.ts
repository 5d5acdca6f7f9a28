import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { loadInput } from "../../src/cli/input.js";
import { recognisesName } from "../../src/columns/column-names.js";
import { readData } from "../../src/read/read-data.js";
import { buildReport, type ReportInput, type ReportOutput } from "../../src/report.js";
import { randomStream } from "../../src/stats/random.js";
import { csvOf, smallRows } from "../cli/small-survey.js";

const quillmar = fileURLToPath(new URL("../../sample-input/quillmar.yaml", import.meta.url));

/** The lines of a CSV text in another order, the header where it was. */
function shuffled(text: string, seed: number): string {
  const [header = "", ...lines] = text.trimEnd().split("\n");
  const random = randomStream(seed);
  for (let i = lines.length - 1; i > 0; i--) {
    const other = random.below(i + 1);
    [lines[i], lines[other]] = [lines[other] as string, lines[i] as string];
  }
  return `${[header, ...lines].join("\n")}\n`;
}

/** The same survey, with its data as another text. */
async function reportOf(text: string, input: Omit<ReportInput, "table">): Promise<ReportOutput> {
  const table = await readData(new TextEncoder().encode(text), "survey.csv", { recognises: recognisesName });
  return buildReport({ ...input, table });
}

/** Every number and word of the results but the file's own size and fingerprint. */
function numbers({ results }: ReportOutput): unknown {
  const { bytes: _, sha256: __, ...input } = results.input;
  const { dataSha256: ___, ...comparable } = results.comparable;
  return { ...results, input, comparable };
}

/** What the list of rows says, without the numbers of the rows. */
function listed({ rows }: ReportOutput): string[] {
  return rows
    .map(({ sheetRow: _, message, ...row }) => {
      const { rows: others, ...values } = message.values;
      return JSON.stringify({
        ...row,
        message: { ...message, values },
        others: Array.isArray(others) ? others.length : 0,
      });
    })
    .sort();
}

async function expectSame(text: string, input: Omit<ReportInput, "table">): Promise<void> {
  const before = await reportOf(text, input);
  for (const seed of [1, 2]) {
    const other = shuffled(text, seed);
    expect(other).not.toBe(text);
    const after = await reportOf(other, input);
    expect(numbers(after)).toEqual(numbers(before));
    expect(listed(after)).toEqual(listed(before));
  }
}

describe("the order of the rows moves no number", () => {
  const none = { surveyFile: null, settingsSha256: null, date: null, version: "test" };

  it("of the sample survey with planted faults", async () => {
    const { table: _, ...input } = await loadInput(quillmar);
    const text = readFileSync(quillmar.replace(/yaml$/, "csv"), "utf8");
    await expectSame(text, { ...input, date: null, version: "test" });
  });

  it("of the same with codes in place of labels", async () => {
    const { table: _, ...input } = await loadInput(quillmar);
    const text = readFileSync(quillmar.replace(/yaml$/, "csv"), "utf8");
    await expectSame(text, { ...input, codes: ["clusters", "teams"], date: null, version: "test" });
  });

  it("of a small survey found by its columns' names, with equal rows and names for teams", async () => {
    const named = smallRows(240, 12).map((row) => ({
      ...row,
      team: `Team of ${"Ada Bo Cy".split(" ")[Number(row.team?.slice(1)) - 1]}`,
    }));
    await expectSame(csvOf([...named, ...named.slice(0, 9)]), none);
  });
});
