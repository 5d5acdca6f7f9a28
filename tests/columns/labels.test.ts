import { describe, expect, it } from "vitest";
import { naturalOrder } from "../../src/columns/natural-order.js";
import { children, surveyOf } from "./make-table.js";

/** The clusters' labels, the code of each row and the ids of the notes on them. */
async function clusters(cells: readonly string[]) {
  const survey = await surveyOf({ ...children, cluster: cells });
  const notes = survey.settings.notes.filter(({ id }) => id.startsWith("input.note.labels-"));
  return {
    labels: survey.cluster?.labels,
    codes: [...(survey.cluster?.codes ?? [])],
    notes: notes.map(({ id, values }) => [id.slice("input.note.labels-".length), values.spellings, values.labels]),
  };
}

describe("spellings of one label", () => {
  it.each([
    ["spaces outside and repeated", ["a b", "a  b", " a b ", "c", "c", "c"], [0, 0, 0, 1, 1, 1], [["same", 2, 1]]],
    [
      "a point and zeros behind whole numbers",
      ["7", "7.0", "7.00", "8", "8.0", "9"],
      [0, 0, 0, 1, 1, 2],
      [["same", 5, 2]],
    ],
    ["the Unicode form", ["\u00e9", "e\u0301", "\u00e9", "f", "f", "f"], [0, 0, 0, 1, 1, 1], [["same", 2, 1]]],
    ["invisible marks", ["T1", "T\u200b1", "\u200eT1", "T2", "T2", "T2"], [0, 0, 0, 1, 1, 1], [["same", 3, 1]]],
    [
      "digits of Arabic and of Persian script",
      ["12", "١٢", "۱۲", "13", "13", "13"],
      [0, 0, 0, 1, 1, 1],
      [["same", 3, 1]],
    ],
    ["no-break spaces", ["a b", "a\u00a0b", "a b", "c", "c", "c"], [0, 0, 0, 1, 1, 1], [["same", 2, 1]]],
    ["capital letters", ["T1", "t1", "T1", "T2", "t2", "T2"], [0, 0, 0, 1, 1, 1], [["nearly-same", 4, 2]]],
    ["zeros before a number", ["7", "07", "007", "8", "8", "08"], [0, 0, 0, 1, 1, 1], [["nearly-same", 5, 2]]],
    ["a space before a number", ["T 1", "T1", "T01", "T2", "T2", "T2"], [0, 0, 0, 1, 1, 1], [["nearly-same", 3, 1]]],
  ])("%s: one label, said", async (_, cells, codes, notes) => {
    const found = await clusters(cells);
    const order = [...new Set(found.codes)];
    expect(found.codes.map((code) => order.indexOf(code))).toEqual(codes);
    expect(found.labels).toHaveLength(order.length);
    expect(found.notes).toEqual(notes);
  });

  it.each([
    ["fractions: 1.0 is not 1 where 1.5 is another label", ["1", "1.0", "1.5", "1.5", "1", "1.0"], 3],
    ["a zero within a number", ["1.05", "1.5", "1.05", "1.5", "10", "1"], 4],
    ["numbers parted by a space", ["1 1", "11", "1 1", "11", "11", "1 1"], 2],
    ["letters with and without an accent", ["sao", "são", "sao", "são", "sao", "são"], 2],
  ])("%s: labels of their own, nothing said", async (_, cells, count) => {
    const found = await clusters(cells);
    expect(found.labels).toHaveLength(count);
    expect(found.notes).toEqual([]);
  });

  it("the commonest spelling is kept, and a column without other spellings stays as it is written", async () => {
    expect((await clusters(["t1", "T1", "t1", "T2", "T2", "T2"])).labels).toEqual(["T2", "t1"]);
    expect((await clusters(["01", "01", "02", "02", "03", "03"])).labels).toEqual(["01", "02", "03"]);
    expect((await clusters(["1.0", "1.0", "2.0", "2.0", "3.0", "3.0"])).notes).toEqual([]);
  });

  it("of a household are taken together only where nothing that is seen differs", async () => {
    const household = ["aB3", "Ab3", "7", "07", "8", "8.0"];
    const survey = await surveyOf({ ...children, household });
    expect(new Set(survey.household?.codes)).toHaveLength(5);
  });

  it("of a column for subgroups are taken together, too", async () => {
    const water = ["pump", "Pump", "river", "river", "pump", "RIVER"];
    const survey = await surveyOf({ ...children, water }, "data: data.csv\nsubgroups: [water]\n");
    expect(survey.subgroups[0]?.labels).toEqual(["pump", "river"]);
    expect(survey.settings.notes.find(({ id }) => id.endsWith("labels-nearly-same"))?.values).toEqual({
      column: "water",
      spellings: 4,
      labels: 2,
    });
  });
});

describe("the natural order of labels", () => {
  it("counts: T2 stands before T10, a number before letters", () => {
    expect(["T10", "T2", "b", "10", "9", "T2a", "2"].sort(naturalOrder)).toEqual([
      "2",
      "9",
      "10",
      "T2",
      "T2a",
      "T10",
      "b",
    ]);
  });

  it("tells every two texts apart, and numbers of any length", () => {
    expect(naturalOrder("07", "7")).not.toBe(0);
    expect(naturalOrder("9007199254740993", "9007199254740992")).toBeGreaterThan(0);
    expect(naturalOrder("T1", "T1")).toBe(0);
  });
});
