import { describe, expect, it } from "vitest";
import { describe as describeSurvey } from "../../src/describe/describe.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { readData } from "../../src/read/read-data.js";
import { checkExample } from "./pipeline.js";

/** Text of every value inside, typed arrays left out: they hold numbers only. */
function textOf(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) => {
    if (ArrayBuffer.isView(inner)) return undefined;
    return inner instanceof Map ? [...inner] : inner;
  });
}

const closed = /not kept|first_name|phone/;

describe("columns that no role names", () => {
  it("are in the data file", () => {
    const csv = toCsv(generateSurvey({ seed: 21 }));
    expect(csv).toContain("name not kept");
    expect(csv).toContain("phone not kept");
  });

  it("do not pass into the survey, nor into what the checks say", async () => {
    const text = textOf(await checkExample({ seed: 21 }));
    expect(text.includes("child/birth_date")).toBe(true);
    expect(text.match(closed)).toBeNull();
  });

  it("do not pass when the columns are found from the data alone", async () => {
    const table = await readData(new TextEncoder().encode(toCsv(generateSurvey({ seed: 21 }))), "invented.csv");
    const text = textOf(describeSurvey(table, null));
    expect(text.includes("child/weight_kg")).toBe(true);
    expect(text.match(closed)).toBeNull();
  });
});
