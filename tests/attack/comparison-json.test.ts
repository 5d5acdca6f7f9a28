import { execFileSync } from "node:child_process";
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readSurvey } from "../../src/compare/read-summary.js";
import { comparisonSchema } from "../../src/results/comparison.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { sampleComparison } from "../render/sample-comparison.js";
import { sampleResults, withConsequence } from "../render/sample-results.js";
import { filesIn } from "../whole/program.js";
import { changed, drawAgain, draws, evil, facts, hostileTexts, steersTerminal } from "./hostile-json.js";

const text = JSON.stringify(sampleComparison(4, 2));
/** A comparison with someone's texts in it, that no terminal may be told of. */
const secret = "Amina Telefon 0700";

/** Not what a comparison is: too deep, cut off, of another kind, or with a path for a name. */
function wrong(): (string | unknown)[] {
  const own = JSON.parse(text) as { comparison: Record<string, unknown> };
  const named = (name: string): unknown => ({ ...own, comparison: { ...own.comparison, name } });
  const deep = `${'{"id":"x","values":{"a":'.repeat(50_000)}"x"${"}}".repeat(50_000)}`;
  return [
    text.replace('"tareline-comparison"', '"tareline-results"'),
    text.replace(/"story":\{/, `"story":{"extra":${deep},`),
    "[".repeat(200_000),
    `${"[".repeat(200_000)}${"]".repeat(200_000)}`,
    ...[0.1, 0.3, 0.5, 0.7, 0.9, 0.999].map((share) => text.slice(0, Math.floor(text.length * share))),
    "null",
    '"tareline-comparison"',
    '{"format":"tareline-comparison"}',
    `{"format":"tareline-comparison","version":${"9".repeat(400)}}`,
    `{"${secret}\u001b[2J\u202E":1,"format":"tareline-comparison"}`,
    text.replace('"values":{', `"values":{"${secret}":{"\u001b[2J":true},`),
    ...["../evil", "a/b", "..", "", "A B", "a\u0000b", "con\u202E", secret].map(named),
  ];
}

describe("a comparison changed by hand", () => {
  it("at any place is read or refused by its schema, and by the reader of surveys", () => {
    fc.assert(
      fc.property(fc.nat(), fc.constantFrom(...evil), (place, put) => {
        const raw = changed(text, place, put);
        comparisonSchema.safeParse(raw);
        const read = readSurvey(raw, facts);
        expect("refused" in read && read.refused.id).toMatch(/^compare\.refused\./);
      }),
      { numRuns: 120, seed: 15 },
    );
  });

  it("at any place draws a page or is refused in words", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.nat(),
        fc.nat(evil.length - 1),
        async (place, put) => void (await drawAgain(changed(text, place, evil[put]), "comparison")),
      ),
      { numRuns: draws, seed: 16 },
    );
  });

  it("in every text draws a page and a document that run nothing and hold no sign that turns or breaks them", async () => {
    const keys = ["title", "population", "place", "round", "group", "file", "label", "reference"];
    expect((await drawAgain(hostileTexts(JSON.parse(text), keys), "comparison", "html,docx")).code).toBe(0);
  });

  it("nested 50,000 deep, cut off, of other kinds or with a path for a name is refused, and nothing of it told", async () => {
    for (const raw of wrong()) {
      const { code, said } = await drawAgain(raw, "comparison");
      expect([code, said.includes(secret)]).toEqual([2, false]);
    }
  });
});

describe("a comparison in the place of a survey", () => {
  it("is refused beside good ones, whatever it holds, and stops nothing", async () => {
    const folder = emptyFolder();
    const good = withConsequence(sampleResults);
    const other = {
      ...good,
      comparable: {
        ...good.comparable,
        dataSha256: "b".repeat(64),
        survey: { ...good.comparable.survey, name: "other" },
      },
    };
    const bad = [text, ...wrong()];
    const paths = [good, other, ...bad].map((raw, i) => {
      const path = join(folder, `${i}.json`);
      writeFileSync(path, typeof raw === "string" ? raw : JSON.stringify(raw));
      return path;
    });
    const ended = await call(["compare", ...paths, "--json", "-"]);
    expect([ended.code, ended.said.length]).toEqual([0, bad.length]);
    expect(ended.err).not.toMatch(steersTerminal);
    expect(ended.err).not.toContain(secret);
    expect(JSON.parse(ended.out).refused.length).toBe(bad.length);
  });

  it("alone is refused", async () => {
    const folder = emptyFolder();
    const path = join(folder, "comparison.json");
    writeFileSync(path, text);
    const ended = await call(["compare", path, path, "--out", join(folder, "out")]);
    expect([ended.code, / {4}at /.test(ended.err)]).toEqual([2, false]);
  });
});

describe("a comparison.json that lies in the output's folder", () => {
  const beginning = '{"format":"tareline-comparison"';
  /** What lies there, and whether the folder is taken for an earlier output of the program. */
  const lying: Readonly<Record<string, readonly [string | Buffer, boolean]>> = {
    "an earlier comparison": [text, true],
    "the beginning of one, then nothing": [beginning, true],
    "the beginning of one, then zeros": [Buffer.concat([Buffer.from(beginning), Buffer.alloc(5_000_000)]), true],
    "one that never closes": [`${beginning},${'{"a":'.repeat(100_000)}`, true],
    "somebody's own": [`{"format":"mine","text":"${secret}"}`, false],
    "one whose format comes late": [`{"a":"${"x".repeat(400)}","format":"tareline-comparison"}`, false],
    "a format with signs that steer a terminal": ['{"format":"\u001b[2Jtareline-comparison"}', false],
    "bytes that are no text": [Buffer.from([0xff, 0xfe, 0, 0xd8, 0x7b]), false],
    nothing: ["", false],
  };

  /** Draws the comparison into a folder that has this in it. */
  async function into(put: (folder: string) => void) {
    const base = emptyFolder();
    const out = join(base, "out");
    const name = sampleComparison(4, 2).comparison.name;
    mkdirSync(join(out, name), { recursive: true });
    put(join(out, name));
    writeFileSync(join(base, "comparison.json"), text);
    const ended = await call(["render", join(base, "comparison.json"), "--formats", "html", "--out", out]);
    expect(ended.err).not.toMatch(/^ {4}at /m);
    expect(ended.err).not.toMatch(steersTerminal);
    expect(ended.err).not.toContain(secret);
    return { ended, folder: join(out, name) };
  }

  it.each(Object.entries(lying))("%s: is replaced where it is the program's, else left alone", async (_, one) => {
    const [content, ours] = one;
    const { ended, folder } = await into((place) => writeFileSync(join(place, "comparison.json"), content));
    expect(ended.code).toBe(ours ? 0 : 2);
    const left = filesIn(folder);
    if (ours) expect(left.has("comparison.html")).toBe(true);
    else expect([...left].map(([name, bytes]) => [name, bytes])).toEqual([["comparison.json", Buffer.from(content)]]);
  });

  it.skipIf(process.platform === "win32")(
    "a folder, a pipe or a link in a circle is left alone, and nothing hangs",
    async () => {
      const odd: Readonly<Record<string, (path: string) => void>> = {
        folder: (path) => mkdirSync(path),
        pipe: (path) => void execFileSync("mkfifo", [path]),
        circle: (path) => symlinkSync("comparison.json", path),
        device: (path) => symlinkSync("/dev/zero", path),
      };
      for (const [kind, put] of Object.entries(odd)) {
        const { ended } = await into((place) => put(join(place, "comparison.json")));
        expect([kind, ended.code]).toEqual([kind, 2]);
      }
    },
  );
});
