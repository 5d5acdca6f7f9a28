import fc from "fast-check";
import { expect, it } from "vitest";
import { describe } from "../../src/describe/describe.js";
import { draft } from "../../src/describe/draft.js";
import { readData } from "../../src/read/read-data.js";
import { loadWords } from "../../src/render/words.js";
import { InputError } from "../../src/settings/problems.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { children, mustHaveWords, tableOf } from "../columns/make-table.js";

const words = loadWords("en");

/** Runs something; an InputError is an answer, anything else thrown is a fault. */
async function answer<Result>(run: () => Result | Promise<Result>): Promise<Result | null> {
  try {
    return await run();
  } catch (error) {
    if (error instanceof InputError && error.problems.length > 0) return null;
    throw error;
  }
}

const cell = fc.oneof(
  fc.constantFrom(
    "",
    "m",
    "f",
    "1",
    "2",
    "0",
    "9.5",
    "9,5",
    "-1",
    "999",
    "80",
    "2026-01-31",
    "3/4/2025",
    "45000",
    "NA",
    "=1+1",
    "<b>",
  ),
  fc.string({ maxLength: 12 }),
  fc.double().map(String),
);

it("any bytes are a table or a named problem", async () => {
  const bytes = fc.oneof(
    fc.uint8Array({ maxLength: 200 }),
    fc
      .array(fc.constantFrom(...'a,;\t|"\r\n é'), { maxLength: 80 })
      .map((list) => new TextEncoder().encode(list.join(""))),
  );
  await fc.assert(
    fc.asyncProperty(bytes, async (input) => {
      const table = await answer(() => readData(input, "data.csv"));
      if (table === null) return;
      expect(table.rowCount).toBeGreaterThan(0);
      for (const column of table.columns) expect(Math.max(...column.codes)).toBeLessThan(column.values.length);
    }),
    { numRuns: 400, seed: 1 },
  );
});

it("any cells are a survey or named problems, and a draft that is read or asks", async () => {
  const names = [...Object.keys(children), "position", "sampling weight", "age in months", "age source", "stratum"];
  const columns = fc.dictionary(fc.constantFrom(...names), fc.array(cell, { minLength: 3, maxLength: 3 }), {
    minKeys: 2,
  });
  await fc.assert(
    fc.asyncProperty(columns, async (replaced) => {
      const table = await answer(() => tableOf({ ...children, ...replaced }));
      if (table === null) return;
      const survey = await answer(() => describe(table, null, { today: 20_480 }));
      for (const note of survey?.settings.notes ?? []) mustHaveWords(note);
      expect(survey?.sex.every((code) => code <= 2) ?? true).toBe(true);
      for (const weight of survey?.weight?.values ?? []) expect(Number.isNaN(weight) || weight > 0).toBe(true);
      const { text } = draft(table, (message) => words.text(message));
      await answer(() => parseSurveyFile(text, "survey.yaml"));
    }),
    { numRuns: 150, seed: 1 },
  );
  expect([...words.missing]).toEqual([]);
});

it("any text is a settings file or named problems", async () => {
  const line = fc.constantFrom(
    "data: a.csv",
    "columns:",
    "  sex: s",
    "  weight: { column: w, unit: g }",
    "title: [",
    "ages: { from: 6 }",
    "? x",
    "- y",
    "seed: -1",
    "name: &a *a",
  );
  await fc.assert(
    fc.asyncProperty(
      fc.oneof(
        fc.string(),
        fc.array(line).map((lines) => lines.join("\n")),
      ),
      async (text) => {
        await answer(() => parseSurveyFile(text, "survey.yaml"));
      },
    ),
    { numRuns: 400, seed: 1 },
  );
});
