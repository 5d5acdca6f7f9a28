import { execFileSync } from "node:child_process";
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stringify } from "yaml";
import { InputError, type InputProblem } from "../../src/settings/problems.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { csvOf, smallRows } from "../cli/small-survey.js";

/** The problems of a text, or null where it is read; anything else thrown is a fault. */
function problemsOf(text: string): readonly InputProblem[] | null {
  try {
    parseSurveyFile(text, "s.yaml");
    return null;
  } catch (error) {
    if (error instanceof InputError && error.problems.length > 0) return error.problems;
    throw error;
  }
}

const lines = (count: number, line: (i: number) => string): string =>
  Array.from({ length: count }, (_, i) => line(i)).join("\n");
const letters = "abcdefghij";

describe("a settings file made to exhaust", () => {
  const bombs = {
    "aliases of aliases": `a: &a [x,x,x,x,x,x,x,x,x]\n${lines(9, (i) => `${letters[i + 1]}: &${letters[i + 1]} [${Array(9).fill(`*${letters[i]}`)}]`)}\ndata: x`,
    "an alias within itself": "data: &a {file: *a}",
    "a list within itself": "data: x\nsubgroups: &a [*a]",
    "20,000 lists": `title: ${"[".repeat(20_000)}`,
    "20,000 lists that end": `title: ${"[".repeat(20_000)}${"]".repeat(20_000)}`,
    "2,000 levels of indentation": `title:\n${lines(2000, (i) => `${" ".repeat(i + 1)}- `)}`,
    "20,000 unknown keys": `data: x\n${lines(20_000, (i) => `k${i}: 1`)}`,
    "20,000 strata": `data: x\nclusters-in-population:\n${lines(20_000, (i) => ` k${i}: 0`)}`,
    "the same key 20,000 times": `data: x\n${lines(20_000, () => "seed: 1")}`,
    "more than any settings": `data: x\ntitle: ${"x".repeat(400_000)}`,
    "a key of 100,000 signs": `${"k".repeat(100_000)}: 1`,
    "tags of other languages": "data: !!js/function 'x'\ntitle: !!binary x",
    "keys that every object has": "data: x\n__proto__: {language: zz}\nconstructor: 1",
  };

  it.each(Object.entries(bombs))("%s: is refused in words and soon", (_, text) => {
    const before = process.cpuUsage().user;
    const problems = problemsOf(text);
    expect(problems?.length).toBeGreaterThan(0);
    expect((process.cpuUsage().user - before) / 1e6).toBeLessThan(8);
    expect(({} as Record<string, unknown>).language).toBeUndefined();
  });

  it("a key that stands twice is named with its line", () => {
    expect(problemsOf("data: x\nages:\n  from: 6\n  from: 7\n")).toMatchObject([
      { kind: "settings-syntax", line: 4, details: { what: "twice" } },
    ]);
  });

  it("any settings are read or refused in words, and the same whichever way they are written", () => {
    const key = fc.constantFrom(
      "data",
      "columns",
      "sex",
      "ages",
      "from",
      "seed",
      "title",
      "__proto__",
      "constructor",
      "joins",
    );
    const { value } = fc.letrec((tie) => ({
      value: fc.oneof(
        { maxDepth: 4 },
        fc.string(),
        fc.integer(),
        fc.double(),
        fc.boolean(),
        tie("map"),
        fc.array(tie("value")),
      ),
      map: fc.dictionary(key, tie("value"), { maxKeys: 5 }),
    }));
    const kinds = (text: string) => problemsOf(text)?.map((problem) => problem.kind);
    fc.assert(
      fc.property(fc.dictionary(key, value, { maxKeys: 5 }), (settings) => {
        const [plain, flow] = [stringify(settings), JSON.stringify(settings)];
        expect(kinds(plain)).toEqual(kinds(flow));
      }),
      { numRuns: 300, seed: 4 },
    );
  });
});

describe("paths that settings name", () => {
  /** A folder with settings in it, beside data of somebody else's. */
  function place(): { readonly inside: string; readonly settings: (text: string, name?: string) => string } {
    const base = emptyFolder();
    const inside = join(base, "inside");
    mkdirSync(inside);
    writeFileSync(join(base, "secret.csv"), csvOf(smallRows()));
    writeFileSync(join(base, "secret.txt"), "Amina Telefon 0700\n");
    writeFileSync(join(inside, "own.csv"), csvOf(smallRows()));
    const settings = (text: string, name = "s.yaml"): string => {
      writeFileSync(join(inside, name), text);
      return join(inside, name);
    };
    return { inside, settings };
  }
  const list = "clusters: { columns: { cluster: cluster }, file:";

  it("lead nowhere outside their folder: upwards, from the root, by links of files and folders", async () => {
    const { inside, settings } = place();
    symlinkSync(join(inside, "..", "secret.csv"), join(inside, "link.csv"));
    symlinkSync(join(inside, ".."), join(inside, "folder"));
    symlinkSync("circle.csv", join(inside, "circle.csv"));
    const out = ["--json", "-"];
    for (const path of [
      "../secret.csv",
      join(inside, "..", "secret.csv"),
      "link.csv",
      "folder/secret.csv",
      "x/../../secret.csv",
      ".",
    ]) {
      for (const text of [`data: ${path}`, `data: own.csv\n${list} ${path} }`]) {
        const ended = await call(["report", settings(text), ...out]);
        expect([text, ended.code, ended.out]).toEqual([text, 2, ""]);
        expect(ended.err).not.toContain("Amina");
      }
    }
    for (const path of ["circle.csv", '"a\\0b.csv"', '"\\u001b[31m"', "x".repeat(5000), '"con/../nul"', "..", '""']) {
      const ended = await call(["report", settings(`data: ${path}`), ...out]);
      expect([path, ended.code, ended.err.includes("    at ")]).toEqual([path, 2, false]);
    }
    expect(
      (await call(["report", settings("data: ../secret.csv"), "--data", join(inside, "own.csv"), ...out])).code,
    ).toBe(0);
  });

  it("of a comparison neither, and nothing of such a file is told", async () => {
    const { inside, settings } = place();
    symlinkSync(join(inside, "..", "secret.txt"), join(inside, "link.txt"));
    const files = [
      "../secret.csv",
      "../secret.txt",
      join(inside, "..", "secret.csv"),
      "link.txt",
      '"a\\0b.json"',
      "../x.json",
    ];
    const path = settings(`surveys:\n${files.map((file) => `  - file: ${file}`).join("\n")}`, "compare.yaml");
    const ended = await call(["compare", path, "--json", "-"]);
    expect([ended.code, ended.out]).toEqual([2, ""]);
    expect(ended.err).not.toMatch(/Amina|Telefon|birth_date| {4}at /);
  });

  it("cells of data that cannot be read stand in no comparison", async () => {
    const { inside } = place();
    writeFileSync(join(inside, "one.csv"), "Amina Telefon 0700\n");
    const ended = await call(["compare", join(inside, "one.csv"), join(inside, "own.csv"), "--json", "-"]);
    expect(ended.code).toBe(2);
    expect(ended.err).toContain("one.csv");
    expect(ended.err).not.toMatch(/Amina|Telefon/);
  });

  it.skipIf(process.platform === "win32")(
    "a pipe that never ends is refused, wherever a file is asked for",
    async () => {
      const folder = emptyFolder();
      const pipes = ["a.yaml", "a.csv", "a.json", "compare.yaml"].map((name) => join(folder, name));
      execFileSync("mkfifo", pipes);
      const [yaml = "", csv = "", json = "", comparison = ""] = pipes;
      for (const args of [
        ["report", yaml],
        ["report", csv],
        ["render", json],
        ["compare", json, json],
        ["compare", comparison],
        ["describe", csv],
      ]) {
        const { code, err } = await call([...args, ...(args[0] === "describe" ? [] : ["--out", join(folder, "out")])]);
        expect([args[0], code, err.includes("    at ")]).toEqual([args[0], 2, false]);
      }
    },
  );
});
