import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { exampleFaults } from "../../src/example/files.js";
import type { ExampleFaults } from "../../src/example/options.js";
import { type Checked, checkExample, checkText, isNoticed, noticedGroups, publicLabel, resultOf } from "./pipeline.js";

const folder = join(import.meta.dirname, "../../sample-input");

function checkFile(name: string): Promise<Checked> {
  const text = (ending: string): string => readFileSync(join(folder, `${name}.${ending}`), "utf8");
  return checkText(text("csv"), text("yaml"), name);
}

const { heightRounding, ageHeaping, scaleDrift, duplicateRows } = exampleFaults;

/** Whether the rounding team, and no other, is named by the check of last digits. */
function findsRounding(checked: Checked): boolean {
  const noticed = noticedGroups(checked, "height-digits", ["team"]).map((group) => group.label);
  return isNoticed(resultOf(checked, "height-digits").reading) && noticed.join() === heightRounding.team;
}

function findsHeaping(checked: Checked): boolean {
  const district = publicLabel(checked.survey.stratum, ageHeaping.district);
  const noticed = noticedGroups(checked, "age-heaping", ["stratum"]).map((group) => group.label);
  return isNoticed(resultOf(checked, "age-heaping").reading) && noticed.join() === district;
}

function findsDrift(checked: Checked): boolean {
  const noticed = noticedGroups(checked, "teams-differ", ["team"]).map((group) => group.label);
  return isNoticed(resultOf(checked, "teams-differ").reading) && noticed.includes(scaleDrift.team);
}

/** Every row that stands in the file again is among the rows to look at. */
function findsDuplicates(checked: Checked, count: number): boolean {
  const rows = new Set(checked.runs.get("duplicate-rows")?.rows.map((row) => row.sheetRow));
  return isNoticed(resultOf(checked, "duplicate-rows").reading) && rows.size >= count;
}

describe("the sample survey", () => {
  let sample: Checked;
  let clean: Checked;
  beforeAll(async () => {
    sample = await checkFile("quillmar");
    clean = await checkFile("quillmar-clean");
  });

  it("shows which team rounds heights", () => expect(findsRounding(sample)).toBe(true));
  it("shows in which district ages are heaped", () => expect(findsHeaping(sample)).toBe(true));
  it("shows which team's scale drifts", () => expect(findsDrift(sample)).toBe(true));
  it("shows the rows entered twice", () => {
    expect(findsDuplicates(sample, duplicateRows.count)).toBe(true);
    const lines = readFileSync(join(folder, "quillmar.csv"), "utf8").trimEnd().split("\n");
    const again = lines.flatMap((line, i) => (lines.indexOf(line) < i ? [i + 1] : []));
    expect(again).toHaveLength(duplicateRows.count);
    const named = new Set(sample.runs.get("duplicate-rows")?.rows.map((row) => row.sheetRow));
    for (const sheetRow of again) expect(named).toContain(sheetRow);
  });

  it("has a clean twin in which none of the four is found", () => {
    for (const id of ["height-digits", "age-heaping", "teams-differ", "duplicate-rows"]) {
      expect(resultOf(clean, id).reading, id).toBe("expected");
    }
  });
});

describe("each fault alone, in ten surveys, is found by its own check", () => {
  const seeds = Array.from({ length: 10 }, (_, i) => 7000 + i);
  const cases: readonly {
    name: string;
    faults: ExampleFaults;
    found: (checked: Checked) => boolean;
    atLeast: number;
  }[] = [
    { name: "rounded heights", faults: { heightRounding }, found: findsRounding, atLeast: 10 },
    { name: "heaped ages", faults: { ageHeaping }, found: findsHeaping, atLeast: 10 },
    { name: "a drifting scale", faults: { scaleDrift }, found: findsDrift, atLeast: 9 },
    {
      name: "rows entered twice",
      faults: { duplicateRows },
      found: (checked) => findsDuplicates(checked, duplicateRows.count),
      atLeast: 10,
    },
  ];

  it.each(cases)("$name", async ({ faults, found, atLeast }) => {
    let times = 0;
    for (const seed of seeds) if (found(await checkExample({ seed, faults }))) times += 1;
    expect(times).toBeGreaterThanOrEqual(atLeast);
  });
});
