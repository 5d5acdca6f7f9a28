import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/read/problem.js";
import { readData } from "../../src/read/read-data.js";
import { readable } from "../../src/render/readable.js";
import { loadWords } from "../../src/render/words.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { csvOf, smallRows } from "../cli/small-survey.js";
import { filesIn, reachesOut } from "../whole/program.js";

/** Texts that would do harm in a page, a spreadsheet, a path, a document, or to the program itself. */
const hostile = [
  '"><script>alert(1)</script>',
  "<img src=http://x.example/ onerror=alert(1)>",
  "</style></svg><iframe src=//x.example>",
  "'onmouseover='alert(1)",
  '=HYPERLINK("http://x.example")',
  "+1+cmd|' /C calc'!A0",
  "@SUM(1)",
  "\t=1",
  "../../../etc/passwd",
  "..\\..\\x",
  "a\u0000b\u0007c\u001b[31md\u009b",
  "\u202Egnirts\u202D",
  "\u2066isolate",
  "فريق الشمال",
  "\uFFFE\uFFFF",
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "{n, plural, one {#} other {#}}",
  "{{own 1}}",
  "<!--drawing 0-->",
  "$".concat("{1+1}"),
  "]]>&#0;&amp;",
  "x".repeat(1000),
] as const;

const at = (i: number): string => hostile[i % hostile.length] ?? "";

/** What may stand in no page, table or document. */
const unreadable = /(?![\t\n\r])[\p{Cc}\p{Cs}\u202A-\u202E\uFFFE\uFFFF]/u;
const formula = /(?:^|[,;\n])"?[=+@\t]/;

describe("hostile texts in every column, the column names and the settings", () => {
  it("make a report that runs nothing, fetches nothing and keeps its own words in order", async () => {
    const folder = emptyFolder();
    const rows = smallRows(200, 10).map((row, i) => ({
      ...row,
      cluster: at(i % 10),
      team: at(10 + (i % 4)),
      stratum: at(16 + (i % 3)),
      "<b>area\u202E": at(19 + (i % 5)),
      household: at(i),
      __proto__x: at(i),
    }));
    const csv = csvOf(rows).replace("__proto__x", "__proto__");
    // A text with zeros passes in UTF-16 alone.
    writeFileSync(join(folder, "a.csv"), Buffer.from(`\uFEFF${csv}`, "utf16le"));
    const settings = {
      title: "</title><script>alert(1)</script>\u202E\u0007",
      name: "../../..\u0000/evil",
      population: "=1+1 \u202Ex <b> {{own}}",
      data: "a.csv",
      columns: {
        ...Object.fromEntries(
          ["cluster", "team", "stratum", "sex", "weight", "height", "household"].map((n) => [n, n]),
        ),
        "interview-date": "interview_date",
        "birth-date": "birth_date",
      },
      subgroups: ["<b>area\u202E", "__proto__"],
      "clusters-in-population": { constructor: 50, toString: 60, hasOwnProperty: 70 },
    };
    writeFileSync(join(folder, "s.yaml"), JSON.stringify(settings));
    const args = ["report", join(folder, "s.yaml"), "--out", join(folder, "out"), "--formats", "html"];
    const { code, err } = await call(args);
    expect([code, err.slice(0, 500)]).toEqual([0, expect.not.stringMatching(/^ {4}at /m)]);
    expect([...filesIn(folder).keys()].every((name) => /^(?:a\.csv|s\.yaml|out\/evil\/)/.test(name))).toBe(true);
    const out = filesIn(join(folder, "out", "evil"));
    const html = out.get("report.html")?.toString("utf8") ?? "";
    expect(html.length).toBeGreaterThan(100_000);
    expect(reachesOut(html)).toEqual([]);
    expect(html).not.toMatch(unreadable);
    for (const [name, bytes] of out) {
      if (!name.endsWith(".csv")) continue;
      const text = bytes.toString("utf8");
      expect([name, formula.exec(text)?.[0]]).toEqual([name, undefined]);
      if (name.startsWith("tables/")) expect([name, unreadable.exec(text)?.[0]]).toEqual([name, undefined]);
    }
    expect(({} as Record<string, unknown>).language).toBeUndefined();
  });

  it("in UTF-16 with halves of signs, and in 1 MB cells, are read or refused in words", async () => {
    const texts = [
      `sex,weight\n"\ud800","9"\n\udc00,8\n`,
      `sex,weight\n${`${"m".repeat(1_000_000)},9\n`.repeat(3)}`,
      `${"a.b/".repeat(250_000)},sex,weight\n1,m,9\n`,
    ];
    for (const text of texts) {
      const folder = emptyFolder();
      writeFileSync(join(folder, "a.csv"), Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, "utf16le")]));
      const { code, err } = await call(["report", join(folder, "a.csv"), "--out", join(folder, "out"), "--no-pdf"]);
      expect(code).toBe(2);
      expect(err.length).toBeLessThan(5000);
      expect(err).not.toMatch(/^ {4}at /m);
    }
  });

  it("10,000 columns and names that every object has are columns like any other", async () => {
    const folder = emptyFolder();
    const odd = ["__proto__", "constructor", "prototype", "toString", "length", "valueOf"];
    const names = [...odd, ...Array.from({ length: 10_000 }, (_, i) => `q${i}`), "sex", "weight", "height"];
    const rows = Array.from({ length: 5 }, () => [...names.slice(3).map((_, i) => String(i % 7)), "m", "9.1", "75"]);
    writeFileSync(join(folder, "a.csv"), `${[names, ...rows].map((row) => row.join(",")).join("\n")}\n`);
    const { code, out } = await call(["describe", join(folder, "a.csv")]);
    expect(code).toBe(0);
    expect(out.includes("  weight:\n")).toBe(true);
    const table = await readData(readFileSync(join(folder, "a.csv")), "a.csv");
    expect(table.columns.slice(0, 6).map(({ name }) => name)).toEqual(odd);
  });
});

describe("texts before they are drawn", () => {
  const anything = fc.oneof(fc.string({ unit: "binary" }), fc.constantFrom(...hostile), fc.string());

  it("lose what no output may hold, and nothing else", () => {
    fc.assert(
      fc.property(fc.jsonValue(), anything, (value, text) => {
        const shown = readable({ value, list: [text, { [text]: 1 }] });
        expect(JSON.stringify(shown)).not.toMatch(/(?![\t\n\r])[\p{Cs}\u202A-\u202E\u2066-\u2069\uFFFE\uFFFF]/u);
        expect(readable(shown)).toBe(shown);
        const plain = text.replace(/[^\p{L}\p{N} ]/gu, "");
        expect(readable(plain)).toBe(plain);
      }),
      { numRuns: 300, seed: 1 },
    );
  });

  it("from right to left stand in isolates within a sentence from left to right", () => {
    const words = loadWords("en", { "attack.text": "Team {team}: {share, number, ::percent .0}" });
    const said = (team: string) => words.text({ id: "attack.text", values: { team, share: 0.5 } });
    expect(said("فريق")).toBe("Team \u2068فريق\u2069: 50.0%");
    expect(said("North")).toBe("Team North: 50.0%");
    expect(words.month("2025-13-45")).toBe("2025-13-45");
  });
});

describe("any table", () => {
  const cell = fc.oneof(
    fc.string({ maxLength: 8 }),
    fc.constantFrom(...hostile.slice(0, 20)),
    fc.constantFrom("ü", "œuvre", "طفل", "9,5", "31/12/2025"),
  );
  const clean = (text: string): string => text.replace(/[\0\p{Cs}\uFFFE\uFEFF]/gu, "");
  const encodings = {
    "utf-8": (text: string) => Buffer.from(text, "utf8"),
    "utf-8 with a mark": (text: string) => Buffer.from(`\uFEFF${text}`, "utf8"),
    "utf-16le": (text: string) => Buffer.from(`\uFEFF${text}`, "utf16le"),
    "utf-16be": (text: string) => Buffer.from(`\uFEFF${text}`, "utf16le").swap16(),
  };

  it("comes back cell for cell, whatever the encoding, delimiter and line end", async () => {
    const table = fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 8 });
    const shape = fc.tuple(
      fc.constantFrom(...Object.values(encodings)),
      fc.constantFrom(",", ";", "\t", "|"),
      fc.constantFrom("\n", "\r\n"),
    );
    await fc.assert(
      fc.asyncProperty(table, shape, async (rows, [encode, delimiter, end]) => {
        const cleaned = rows.map((row) => row.map(clean)).filter((row) => row.some((text) => text.trim() !== ""));
        if (cleaned.length === 0) return;
        const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
        const lines = [["sex", "weight", "label"], ...cleaned].map((row) => row.map(quoted).join(delimiter));
        const read = await readData(encode(`${lines.join(end)}${end}`), "a.csv", {
          recognises: (name) => ["sex", "weight", "label"].includes(name),
        });
        const texts = read.columns.map((column) => [...column.codes].map((code) => column.values[code]));
        expect(texts).toEqual([0, 1, 2].map((i) => cleaned.map((row) => (row[i] ?? "").trim())));
      }),
      { numRuns: 250, seed: 2 },
    );
  });

  it("of any bytes, packed in any way, is read or refused in words", async () => {
    const start = fc.constantFrom("", "PK\u0003\u0004", "PAR1", "\u001f\u008b\u0008", "sep=;\n", "sex,weight\n");
    await fc.assert(
      fc.asyncProperty(start, fc.uint8Array({ maxLength: 300 }), async (head, rest) => {
        try {
          await readData(Buffer.concat([Buffer.from(head, "latin1"), rest]), "a");
        } catch (error) {
          if (!(error instanceof InputError) || error.problems.length === 0) throw error;
        }
      }),
      { numRuns: 400, seed: 3 },
    );
  });
});
