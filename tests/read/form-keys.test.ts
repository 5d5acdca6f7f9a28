import { describe, expect, it } from "vitest";
import type { ReadOptions } from "../../src/read/options.js";
import { readData } from "../../src/read/read-data.js";
import { cells, notesOf, refusal } from "./table-cells.js";
import { xlsxOf } from "./write-xlsx.js";
import { zipOf } from "./write-zip.js";

// The columns are those that form servers write into their exports, as their public documentation has them: PARENT_KEY and KEY,
// _index and _parent_index, _submission__id and _submission__uuid beside _id and _uuid; _parent_id and _parent_uuid from memory.
const known = new Set(["sex", "weight", "height", "cluster", "team"]);
const options: ReadOptions = {
  recognises: (name) => known.has(name),
  isMeasure: (name) => name === "weight" || name === "height",
};

type Rows = readonly (readonly string[])[];
const text = (rows: Rows): string => rows.map((row) => row.join(",")).join("\n");
const zipped = (tables: Readonly<Record<string, Rows>>) =>
  readData(
    zipOf(Object.entries(tables).map(([name, rows]) => ({ name: `${name}.csv`, content: text(rows) }))),
    "export.zip",
    options,
  );

const conventions = [
  ["PARENT_KEY", "KEY"],
  ["_parent_uuid", "_uuid"],
  ["_parent_id", "_id"],
  ["_parent_index", "_index"],
  ["_submission__uuid", "_uuid"],
  ["_submission__id", "_id"],
] as const;

describe.each(conventions)("%s, which holds the parent's %s", (childKey, parentKey) => {
  const households: Rows = [
    ["cluster", "team", parentKey],
    ["11", "T1", "7001"],
    ["12", "T2", "7002"],
    ["13", "T1", "7003"],
  ];
  const children: Rows = [
    ["sex", "weight", "height", childKey],
    ["m", "9.1", "74", "7002"],
    ["f", "8.4", "71", "7001"],
    ["m", "7.2", "66", "7001"],
    ["f", "6.9", "64", "7999"],
  ];

  it("joins a repeat's rows to their forms, and counts and lists orphans", async () => {
    const table = await zipped({ survey: households, child: children });
    expect(table.container).toEqual({ kind: "zip", table: "child", joined: ["survey"] });
    const { weight, cluster } = cells(table);
    expect({ weight, cluster }).toEqual({ weight: ["9.1", "8.4", "7.2", "6.9"], cluster: ["12", "11", "11", ""] });
    expect(notesOf(table)).toEqual([
      { id: "rows-without-parent", values: { table: "child", parent: "survey", count: 1, rows: "5" } },
      { id: "parents-without-rows", values: { table: "child", parent: "survey", count: 1 } },
    ]);
  });

  it("refuses two forms with one key, by their row", async () => {
    const twice: Rows = [...households, ["14", "T2", "7001"]];
    expect(await refusal(zipped({ survey: twice, child: children }))).toMatchObject([
      { kind: "duplicate-key", file: "export.zip > survey", row: 5, value: "7001", details: { other: 2 } },
    ]);
  });

  it("refuses tables most of whose rows find no form", async () => {
    const strange = children.map((row, i) => (i === 0 ? row : [...row.slice(0, -1), `9${i}`]));
    expect((await refusal(zipped({ survey: households, child: strange })))[0]?.kind).toBe("join-mismatch");
  });
});

describe("several conventions in one export", () => {
  const survey: Rows = [
    ["cluster", "_index", "_id", "_uuid"],
    ["11", "1", "501", "u1"],
    ["12", "2", "502", "u2"],
  ];

  it("the nearest parent's index comes before the key of the whole form", async () => {
    const home: Rows = [
      ["team", "_index", "_parent_table_name", "_parent_index", "_submission__id", "_submission__uuid"],
      ["T1", "1", "survey", "2", "502", "u2"],
      ["T2", "2", "survey", "1", "501", "u1"],
    ];
    const child: Rows = [
      ["weight", "height", "_index", "_parent_table_name", "_parent_index", "_submission__id", "_submission__uuid"],
      ["9.1", "74", "1", "home", "2", "501", "u1"],
      ["8.4", "71", "2", "home", "1", "502", "u2"],
    ];
    const table = await zipped({ survey, home, child });
    expect(table.container?.joined).toEqual(["home", "survey"]);
    const { team, cluster } = cells(table);
    expect({ team, cluster }).toEqual({ team: ["T2", "T1"], cluster: ["11", "12"] });
  });

  it("the key of the whole form joins where the index leads nowhere", async () => {
    const child: Rows = [
      ["weight", "height", "_index", "_parent_table_name", "_parent_index", "_submission__id"],
      ["9.1", "74", "1", "a table that was renamed", "2", "501"],
      ["8.4", "71", "2", "a table that was renamed", "1", "502"],
    ];
    expect(cells(await zipped({ survey, child })).cluster).toEqual(["11", "12"]);
  });

  it("a name of a table that is longer than a sheet's may be is known again", async () => {
    const long = "household_questions_of_the_second_visit";
    const bytes = xlsxOf([
      { name: long.slice(0, 31), rows: survey },
      {
        name: "other",
        rows: [
          ["team", "_index"],
          ["T9", "1"],
          ["T8", "2"],
        ],
      },
      {
        name: "child",
        rows: [
          ["weight", "height", "_index", "_parent_table_name", "_parent_index"],
          ["9.1", "74", "1", long, "2"],
          ["8.4", "71", "2", long, "1"],
        ],
      },
    ]);
    const table = await readData(bytes, "export.xlsx", options);
    expect(table.container?.joined).toEqual([long.slice(0, 31)]);
    expect(cells(table).cluster).toEqual(["12", "11"]);
  });

  it("numbers of rows are taken for no key where they fit several tables", async () => {
    const child: Rows = [
      ["weight", "height", "_parent_index"],
      ["9.1", "74", "1"],
      ["8.4", "71", "2"],
    ];
    const other: Rows = [
      ["team", "_index"],
      ["T1", "1"],
      ["T2", "2"],
    ];
    // Neither is joined; the table with the measures is the only one with more than one known name.
    expect((await zipped({ survey, other, child })).container?.joined).toBeUndefined();
  });
});
