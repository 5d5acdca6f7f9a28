import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { loadWords } from "../../src/render/words.js";
import { message } from "../../src/results/message.js";
import { call, emptyFolder, filesIn } from "./run-here.js";
import { changed, csvOf, type Row, smallRows } from "./small-survey.js";

const bad: Readonly<Record<number, Row>> = Object.fromEntries(
  Array.from({ length: 9 }, (_, i) => [i + 4, { weight: `heavy ${i}` }]),
);

function prepared(rows: Readonly<Record<number, Row>> = bad) {
  const folder = emptyFolder();
  const data = join(folder, "my data.csv");
  writeFileSync(data, csvOf(changed(rows)));
  const out = join(folder, "out");
  const list = join(out, "my-data-problems.csv");
  /** Without the first column, which says on every line that the list is internal. */
  const lines = () =>
    (parse(readFileSync(list), { bom: true }) as string[][]).map(([internal, ...rest]) => {
      expect(internal).not.toBe("");
      return rest;
    });
  return {
    folder,
    data,
    out,
    list,
    lines,
    run: (...more: string[]) => call(["report", data, "--out", out, "--no-pdf", ...more]),
  };
}

describe("problems.csv", () => {
  it("lists every problem, where the terminal shows the first five, and is named there", async () => {
    const { run, list, lines, folder } = prepared();
    const { code, err, out } = await run();
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(list);
    expect(err.match(/heavy \d/g)).toHaveLength(5);
    const [header, ...rows] = lines();
    expect(header).toHaveLength(9);
    expect(rows.map((row) => [row[0], row[1], row[3], row[4], row[5]])).toEqual(
      Array.from({ length: 9 }, (_, i) => ["my data.csv", String(i + 4), "weight", `heavy ${i}`, "1"]),
    );
    expect(filesIn(folder)).toEqual(["my data.csv", "out/my-data-problems.csv"]);
  });

  it("is replaced by the next list and goes when there are no problems any more", async () => {
    const { run, data, list, lines, out } = prepared();
    await run();
    writeFileSync(data, csvOf(changed({ 7: { weight: "one left" } })));
    await run();
    expect(lines().map((row) => row[4])).toEqual([expect.any(String), "one left"]);
    writeFileSync(data, csvOf(smallRows()));
    expect((await run()).code).toBe(0);
    expect(existsSync(list)).toBe(false);
    expect(filesIn(out).every((name) => name.startsWith("my-data/"))).toBe(true);
  });

  it("never takes the place of somebody's own file, nor removes it", async () => {
    const { run, data, list, out } = prepared();
    mkdirSync(out);
    writeFileSync(list, "mine");
    const { code, err } = await run();
    expect(code).toBe(2);
    expect(err).toContain("heavy 0");
    expect(err).not.toContain(list);
    writeFileSync(data, csvOf(smallRows()));
    expect((await run()).code).toBe(0);
    expect(readFileSync(list, "utf8")).toBe("mine");
  });

  it("where it cannot be written, the problems are said all the same", async () => {
    const { run, folder, out } = prepared();
    writeFileSync(out, "a file where the folder should be");
    const { code, err } = await run();
    expect(code).toBe(2);
    expect(err).toContain("heavy 0");
    expect(filesIn(folder)).toEqual(["my data.csv", "out"]);
  });

  it("is not written with --json -, which writes no files", async () => {
    const { run, folder } = prepared();
    const { code, err } = await run("--json", "-");
    expect(code).toBe(2);
    expect(err).toContain("heavy 0");
    expect(filesIn(folder)).toEqual(["my data.csv"]);
  });

  it("clips cells and does not let them become formulas", async () => {
    const { run, lines } = prepared({
      5: { weight: "=1+1" },
      6: { weight: "x".repeat(5000) },
      7: { weight: "a\u0007b" },
    });
    await run();
    const values = lines()
      .slice(1)
      .map((row) => row[4] ?? "");
    expect(values[0]).toBe("'=1+1");
    expect(values[1]?.length).toBeLessThan(70);
    expect(values[2]).toBe("a␇b");
  });

  it("knows an earlier list in another language for its own", async () => {
    const { run, lines } = prepared();
    await run("--language", "xx");
    const header = lines()[0];
    await run();
    expect(lines()[0]).not.toEqual(header);
  });
});

describe("the language of messages", () => {
  const remedy = (language: string): string => loadWords(language).text(message("input.remedy.not-a-number"));

  it("is that of --language, also for the list", async () => {
    const { run, lines } = prepared();
    const { err } = await run("--language", "xx");
    expect(err).toContain(remedy("xx"));
    expect(err).not.toContain(remedy("en"));
    expect(lines()[1]?.[8]).toBe(remedy("xx"));
  });

  it("is that of the settings file, even where that file itself has a problem", async () => {
    const { folder, out } = prepared();
    const yaml = join(folder, "survey.yaml");
    writeFileSync(yaml, "title: t\nname: my-data\nlanguage: xx\ndata: my data.csv\nnonsense: 1\n");
    const unknown = await call(["report", yaml, "--out", out, "--no-pdf"]);
    expect(unknown.code).toBe(2);
    expect(unknown.err).toContain(loadWords("xx").text(message("input.remedy.settings-unknown-key")));
    writeFileSync(yaml, "title: t\nname: my-data\nlanguage: xx\ndata: my data.csv\n");
    const cells = await call(["report", yaml, "--out", out, "--no-pdf"]);
    expect(cells.err).toContain(remedy("xx"));
    const option = await call(["report", yaml, "--out", out, "--no-pdf", "--language", "en"]);
    expect(option.err).toContain(remedy("en"));
  });

  it("holds for what goes wrong with the call itself and with the output", async () => {
    const { run, data, out } = prepared();
    const date = await run("--language", "xx", "--date", "soon");
    expect(date.err).toBe(loadWords("xx").text(message("cli.usage.date", { value: "soon" })));
    writeFileSync(data, csvOf(smallRows()));
    mkdirSync(join(out, "my-data"), { recursive: true });
    writeFileSync(join(out, "my-data", "mine.txt"), "mine");
    const refused = await run("--language", "xx");
    expect(refused.code).toBe(2);
    expect(refused.err).toContain(
      loadWords("xx").text(message("output.not-ours", { folder: join(out, "my-data"), names: ["mine.txt"] })),
    );
  });

  it("is English where it is not known which", async () => {
    const { run } = prepared();
    expect((await run()).err).toContain(remedy("en"));
    expect((await run("--language", "qq")).err).toContain("qq");
  });
});
