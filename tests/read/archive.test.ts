import { execFileSync } from "node:child_process";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { usualLimits } from "../../src/read/limits.js";
import type { ReadOptions } from "../../src/read/options.js";
import { readData, readFolder } from "../../src/read/read-data.js";
import { bytesOf, cells, notesOf, refusal } from "./table-cells.js";
import { xlsxOf } from "./write-xlsx.js";
import { type ZipEntry, zipOf } from "./write-zip.js";

const known = new Set(["sex", "weight", "cluster", "hh", "team", "KEY", "PARENT_KEY"]);
const options: ReadOptions = {
  recognises: (name) => known.has(name.slice(name.lastIndexOf("-") + 1)),
  isMeasure: (name) => name.endsWith("weight"),
};
const zip = (...entries: ZipEntry[]) => readData(zipOf(entries), "export.zip", options);

const households: ZipEntry = {
  name: "survey.csv",
  content: "place-cluster,place-team,KEY\r\n11,T1,uuid:a\r\n12,T2,uuid:b\r\n",
};
const children: ZipEntry = {
  name: "survey-child.csv",
  content:
    "child-sex,child-weight,PARENT_KEY,KEY\r\nm,9.1,uuid:b,uuid:b/1\r\nf,8.4,uuid:a,uuid:a/1\r\nm,7.2,uuid:a,uuid:a/2\r\n",
};

describe("gzip", () => {
  it("holds a text file in any encoding", async () => {
    const text = Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from("sex\tweight\nm\t9,1\n", "utf16le")]);
    const packed = gzipSync(text);
    const table = await readData(packed, "data.csv.gz", options);
    expect(cells(table)).toEqual({ sex: ["m"], weight: ["9,1"] });
    expect(table).toMatchObject({ encoding: "utf-16le", delimiter: "\t", container: { kind: "gzip" } });
    expect(table.bytes).toBe(packed.length);
  });

  it("cut off, changed or packed twice is refused", async () => {
    const packed = gzipSync(bytesOf("sex,weight\nm,9\n".repeat(100)));
    expect(await refusal(readData(packed.subarray(0, -9), "a.gz"))).toMatchObject([{ kind: "broken-file" }]);
    const changed = Buffer.from(packed);
    changed[changed.length - 6] = (changed[changed.length - 6] ?? 0) ^ 0xff;
    expect(await refusal(readData(changed, "a.gz"))).toMatchObject([{ kind: "broken-file" }]);
    expect(await refusal(readData(gzipSync(packed), "a.gz"))).toMatchObject([
      { kind: "not-text", details: { format: "gzip" } },
    ]);
  });

  it("that unpacks beyond the limit is refused", async () => {
    const packed = gzipSync(Buffer.alloc(5_000_000, 0x20));
    const limits = { ...usualLimits, unpackedBytes: 1_000_000 };
    expect(await refusal(readData(packed, "a.gz", { limits }))).toMatchObject([
      { kind: "file-too-large", details: { what: "unpacked", limit: 1_000_000 } },
    ]);
  });
});

describe("a zip of a form's tables", () => {
  it("with two files of one name is refused: which is meant, nobody can tell", async () => {
    const problems = await refusal(zip(households, children, { ...children, content: "child-sex\r\nm\r\n" }));
    expect(problems).toMatchObject([{ kind: "entry-twice", value: "survey-child.csv" }]);
  });

  it("is joined on the parent's key, one row a child, in the order of the children", async () => {
    const table = await zip(households, children);
    const { "child-sex": sex, "child-weight": weight, "place-cluster": cluster, "place-team": team } = cells(table);
    expect({ sex, weight, cluster, team }).toEqual({
      sex: ["m", "f", "m"],
      weight: ["9.1", "8.4", "7.2"],
      cluster: ["12", "11", "11"],
      team: ["T2", "T1", "T1"],
    });
    expect([...table.sheetRow]).toEqual([2, 3, 4]);
    expect(table.container).toEqual({ kind: "zip", table: "survey-child", joined: ["survey"] });
    expect(notesOf(table)).toEqual([]);
  });

  it("keeps a parent's column whose name is taken under its table's name", async () => {
    expect(cells(await zip(households, children))["survey/KEY"]).toEqual(["uuid:b", "uuid:a", "uuid:a"]);
  });

  it("keeps the cells of the columns asked for alone", async () => {
    const columns = new Set(["child-weight", "place-cluster"]);
    const table = await readData(zipOf([households, children]), "export.zip", { ...options, columns });
    const filled = table.columns.filter((column) => column.values.some((text) => text !== ""));
    expect(filled.map((column) => column.name)).toEqual(["child-weight", "place-cluster"]);
  });

  it("is joined over two levels", async () => {
    const members = { name: "member.csv", content: "sex,PARENT_KEY,KEY\nm,uuid:a,m1\nf,uuid:b,m2\n" };
    const measures = { name: "measure.csv", content: "weight,PARENT_KEY,KEY\n9,m2,x1\n8,m1,x2\n" };
    const table = await zip(measures, households, members);
    const { sex, weight, "place-cluster": cluster } = cells(table);
    expect({ sex, weight, cluster }).toEqual({ sex: ["f", "m"], weight: ["9", "8"], cluster: ["12", "11"] });
    expect(table.container?.joined).toEqual(["member", "survey"]);
  });

  it("counts and lists rows without a parent, and keeps them", async () => {
    const orphan = { ...children, content: `${children.content}m,6.5,uuid:z,uuid:z/1\r\nf,6.1,,uuid:y/1\r\n` };
    const table = await zip(households, orphan);
    expect(table.rowCount).toBe(5);
    expect(cells(table)["place-cluster"]).toEqual(["12", "11", "11", "", ""]);
    expect(notesOf(table)).toEqual([
      { id: "rows-without-parent", values: { table: "survey-child", parent: "survey", count: 2, rows: "5, 6" } },
    ]);
    expect(table.columns.find(({ name }) => name === "place-cluster")?.from?.sheetRow).toEqual(
      Uint32Array.of(3, 2, 2, 0, 0),
    );
  });

  it("counts parents without a row", async () => {
    const more = { ...households, content: `${households.content}13,T1,uuid:c\r\n` };
    const table = await zip(more, children);
    expect(notesOf(table)).toEqual([
      { id: "parents-without-rows", values: { table: "survey-child", parent: "survey", count: 1 } },
    ]);
    expect(table.columns.find(({ name }) => name === "place-cluster")?.values).toEqual(["12", "11"]);
  });

  it("refuses a key of two different parents, and notes one written twice alike", async () => {
    const differ = { ...households, content: `${households.content}14,T1,uuid:a\r\n` };
    expect(await refusal(zip(differ, children))).toMatchObject([
      { kind: "duplicate-key", file: "export.zip > survey", row: 4, value: "uuid:a", details: { other: 2 } },
    ]);
    const alike = { ...households, content: `${households.content}11,T1,uuid:a\r\n` };
    expect(notesOf(await zip(alike, children))).toContainEqual({
      id: "duplicate-keys",
      values: { table: "survey", count: 1, rows: "4" },
    });
  });

  it("notes children sent twice", async () => {
    const twice = { ...children, content: `${children.content}m,7.2,uuid:a,uuid:a/2\r\n` };
    const table = await zip(households, twice);
    expect(table.rowCount).toBe(4);
    expect(notesOf(table)).toEqual([{ id: "repeated-rows", values: { table: "survey-child", count: 1, rows: "5" } }]);
  });

  it("refuses tables whose keys do not match", async () => {
    const strange = {
      ...children,
      content: String(children.content).replaceAll("uuid:a,", "q,").replaceAll("uuid:b,", "r,"),
    };
    expect(await refusal(zip(households, strange))).toMatchObject([
      { kind: "join-mismatch", column: "PARENT_KEY", details: { orphans: 3, rows: 3 } },
    ]);
  });

  it("is joined on a column that both have, with a note", async () => {
    const table = await zip(
      { name: "houses.csv", content: "hh,cluster\n1,11\n2,12\n3,12\n" },
      { name: "kids.csv", content: "hh,sex,weight\n2,m,9\n1,f,8\n2,f,7\n" },
    );
    expect(cells(table).cluster).toEqual(["12", "11", "12"]);
    expect(notesOf(table)).toContainEqual({
      id: "joined-by-name",
      values: { table: "kids", parent: "houses", column: "hh" },
    });
  });

  it("is not joined to a list of codes, which has nothing to give", async () => {
    const table = await zip(
      { name: "kids.csv", content: "sex,weight,team\nm,9,1\nf,8,1\nf,7,2\n" },
      { name: "codes.csv", content: "sex,meaning\nm,boy\nf,girl\n" },
    );
    expect(table.columns.map((column) => column.name)).toEqual(["sex", "weight", "team"]);
    expect(notesOf(table)).toEqual([{ id: "table-chosen", values: { table: "kids", others: "codes" } }]);
  });

  it("never guesses a join from values alone: it asks, and the settings settle it", async () => {
    const entries = [
      { name: "houses.csv", content: "nr,cluster,team\n1,11,T1\n2,12,T2\n" },
      { name: "kids.csv", content: "of,sex,weight\n2,m,9\n1,f,8\n2,f,7\n" },
    ];
    expect(await refusal(zip(...entries))).toMatchObject([
      { kind: "tables-unclear", details: { sheets: ["houses", "kids"] } },
    ]);
    const join = { table: "kids.csv", key: "of", parent: "houses", parentKey: "nr" };
    const stated = { ...options, sheet: "kids", joins: [join] };
    const table = await readData(zipOf(entries), "export.zip", stated);
    expect(cells(table).cluster).toEqual(["12", "11", "12"]);
    const misspelt = { ...stated, joins: [{ ...join, parentKey: "number" }] };
    expect(await refusal(readData(zipOf(entries), "export.zip", misspelt))).toMatchObject([
      { kind: "join-column-not-found", value: "number", details: { columns: ["nr", "cluster", "team"] } },
    ]);
  });

  it("passes over pictures, and over files that other computers leave", async () => {
    const table = await zip(
      households,
      children,
      { name: "media/photo.jpg", content: Uint8Array.of(1, 2, 0) },
      { name: "__MACOSX/survey.csv", content: "x" },
      { name: ".hidden.csv", content: "x" },
    );
    expect(table.rowCount).toBe(3);
    expect(notesOf(table)).toEqual([]);
  });

  it("may hold one workbook", async () => {
    const content = xlsxOf([
      {
        name: "Data",
        rows: [
          ["sex", "weight"],
          ["m", 9],
        ],
      },
    ]);
    const table = await zip({ name: "data.xlsx", content });
    expect(table.container).toEqual({ kind: "zip", table: "Data", headerRow: 1 });
  });

  it("packed by another program is read the same", async ({ skip }) => {
    const { mkdtempSync, readFileSync, rmSync, writeFileSync } = await import("node:fs");
    const { tmpdir } = await import("node:os");
    const { join } = await import("node:path");
    const folder = mkdtempSync(join(tmpdir(), "tareline-zip-"));
    try {
      for (const { name, content } of [households, children]) writeFileSync(join(folder, name), content);
      try {
        execFileSync("zip", ["-q", "out.zip", households.name, children.name], { cwd: folder });
      } catch {
        skip("no program 'zip' on this computer");
      }
      const table = await readData(readFileSync(join(folder, "out.zip")), "export.zip", options);
      expect(cells(table)).toEqual(cells(await zip(households, children)));
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it("and a folder of the same tables give the same", async () => {
    const files = [children, households].map(({ name, content }) => ({ name, bytes: bytesOf(String(content)) }));
    const folder = await readFolder([...files, { name: "notes.md", bytes: bytesOf("#") }], "tables", options);
    expect(cells(folder)).toEqual(cells(await zip(households, children)));
    expect(folder.container?.kind).toBe("folder");
    const again = await readFolder([...files].reverse(), "tables", options);
    expect(again.sha256).toBe(folder.sha256);
  });
});

describe("a hostile or broken archive", () => {
  it.each(["../survey.csv", "/etc/survey.csv", "a/../../survey.csv", "C:/survey.csv", "..\\survey.csv"])(
    "a name that leads out of it is refused: %s",
    async (name) => {
      expect(await refusal(zip(households, { ...children, name }))).toMatchObject([{ kind: "unsafe-name" }]);
    },
  );

  it("more than it declares is refused, and so is less", async () => {
    for (const declaredSize of [10, 5000]) {
      expect(await refusal(zip({ ...children, declaredSize }))).toMatchObject([{ kind: "broken-file" }]);
    }
  });

  it("more than the limits allow is refused, declared or not", async () => {
    const big = { name: "big.csv", content: `sex,weight\n${"m,9\n".repeat(500_000)}` };
    const limits = { ...usualLimits, unpackedBytes: 1_000_000 };
    const bytes = zipOf([big]);
    expect(bytes.length).toBeLessThan(20_000);
    for (const entries of [[big], [{ ...big, declaredSize: 999_999 }]]) {
      const [problem] = await refusal(readData(zipOf(entries), "export.zip", { ...options, limits }));
      expect(["file-too-large", "broken-file"]).toContain(problem?.kind);
    }
    const many = Array.from({ length: 50 }, (_, i) => ({ name: `${i}.csv`, content: "a,b\n1,2\n" }));
    const few = { ...usualLimits, entries: 20 };
    expect(await refusal(readData(zipOf(many), "export.zip", { limits: few }))).toMatchObject([
      { kind: "file-too-large", details: { what: "entries" } },
    ]);
    expect(
      await refusal(readData(bytes, "export.zip", { limits: { ...usualLimits, packedBytes: 100 } })),
    ).toMatchObject([{ kind: "file-too-large", details: { what: "packed" } }]);
  });

  it("an archive within an archive is not opened", async () => {
    const inner = zipOf([children]);
    expect(await refusal(zip({ name: "inner.xlsx", content: inner }))).toMatchObject([
      { kind: "not-text", details: { format: "zip" } },
    ]);
  });

  it("with a password, a wrong checksum, or nothing in it: refused", async () => {
    expect(await refusal(zip({ ...children, encrypted: true }))).toMatchObject([{ kind: "encrypted-file" }]);
    expect(await refusal(zip({ ...children, crc: 1 }))).toMatchObject([{ kind: "broken-file" }]);
    expect(await refusal(zip())).toMatchObject([{ kind: "no-tables" }]);
    expect(await refusal(zip({ name: "a.jpg", content: "x" }))).toMatchObject([{ kind: "no-tables" }]);
  });

  it("cut anywhere, it is refused", async () => {
    const bytes = zipOf([households, children]);
    for (let length = 4; length < bytes.length; length += 31) {
      const [problem] = await refusal(readData(bytes.subarray(0, length), "export.zip", options));
      expect(problem?.kind, String(length)).toBe("broken-file");
    }
  });

  it("column names that mean something to JavaScript are plain names", async () => {
    const odd = {
      name: "odd.csv",
      content: "__proto__,constructor,sex,weight,PARENT_KEY,KEY\n1,2,m,9,uuid:a,k1\n3,4,f,8,uuid:b,k2\n",
    };
    const table = await zip(households, odd);
    expect(table.columns.slice(0, 2).map(({ name, values }) => [name, values])).toEqual([
      ["__proto__", ["1", "3"]],
      ["constructor", ["2", "4"]],
    ]);
    expect(({} as Record<string, unknown>).cluster).toBeUndefined();
  });
});
