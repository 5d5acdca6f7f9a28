import { readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { describe, expect, it } from "vitest";
import { programVersion } from "../../src/cli/version.js";
import { resultsSchema } from "../../src/results/schema.js";
import { call, emptyFolder, filesIn } from "./run-here.js";
import { changed, csvOf, smallRows } from "./small-survey.js";

const shortDraw = ["--no-pdf", "--quiet"];

/** A folder with the small survey in it, and the path for the output. */
function prepared(text = csvOf(smallRows())): {
  readonly data: string;
  readonly out: string;
  readonly folder: string;
} {
  const folder = emptyFolder();
  const data = join(folder, "small.csv");
  writeFileSync(data, text);
  return { data, out: join(folder, "out"), folder };
}

describe("help and misspellings", () => {
  it("help goes to standard output, since it was asked for, and ends with 0", async () => {
    for (const args of [["--help"], ["report", "--help"], ["help", "describe"]]) {
      const { code, out, err } = await call(args);
      expect([code, err], args.join(" ")).toEqual([0, ""]);
      expect(out).toMatch(/^(Examples|Usage):/);
      expect(out).toContain("tareline");
    }
  });

  it("the version is that of package.json", async () => {
    const { code, out } = await call(["--version"]);
    expect([code, out.trim()]).toEqual([0, programVersion()]);
  });

  it("no command at all: help on standard error, ends with 2", async () => {
    const { code, out, err } = await call([]);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain("report");
  });

  it.each([
    [["reprot", "x.csv"], "report"],
    [["report", "x.csv", "--no-pfd"], "--no-pdf"],
    [["report", "x.csv", "--languge", "en"], "--language"],
  ] as const)("%j: names what was probably meant, ends with 2", async (args, meant) => {
    const { code, out, err } = await call(args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(`(Did you mean ${meant}?)`);
  });

  it.each([
    [["report"]],
    [["report", "a.csv", "b.csv"]],
    [["report", "a.csv", "--fail-on", "expected"]],
    [["report", "a.csv", "--json", "results.json"]],
    [["report", "a.csv", "--out"]],
  ] as const)("%j cannot be carried out: 2, nothing on standard output", async (args) => {
    const { code, out, err } = await call(args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).not.toBe("");
  });
});

describe("a file that is not there", () => {
  it.each([["report"], ["describe"], ["render"]])("%s names the path and ends with 2", async (command) => {
    const folder = emptyFolder();
    const absent = join(folder, "no-such-file.csv");
    for (const path of [absent, join(absent, "below")]) {
      writeFileSync(join(folder, "a-file"), "");
      const { code, out, err } = await call([command, path]);
      expect([code, out]).toEqual([2, ""]);
      expect(err).toContain(path);
      expect(err).not.toContain("at ");
    }
  });

  it.each([["report"], ["describe"], ["render"]])("%s of a folder names it and ends with 2", async (command) => {
    const folder = emptyFolder();
    const { code, err } = await call([command, folder]);
    expect(code).toBe(2);
    expect(err).toContain(basename(folder));
  });

  it("a path that goes through a file is no fault of the program", async () => {
    const { data } = prepared();
    const { code, err } = await call(["report", join(data, "below.csv")]);
    expect(code).toBe(2);
    expect(err).toContain(join(data, "below.csv"));
  });

  it("settings whose data file is absent name that file", async () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, "survey.yaml"), "title: t\nname: n\ndata: gone.csv\n");
    const { code, err } = await call(["report", join(folder, "survey.yaml"), "--out", join(folder, "out")]);
    expect(code).toBe(2);
    expect(err).toContain(join(folder, "gone.csv"));
    expect(filesIn(folder)).toEqual(["survey.yaml"]);
  });
});

describe("the day of the report", () => {
  const day = async (args: readonly string[], environment: Record<string, string> = {}): Promise<string> => {
    const { data } = prepared();
    const { code, out, err } = await call(["report", data, "--json", "-", ...args], { environment });
    expect(code, err).toBe(0);
    return JSON.parse(out).madeOn;
  };

  it("is the last interview day, unless SOURCE_DATE_EPOCH or --date say otherwise, --date first", async () => {
    expect(await day([])).toBe("2025-03-07");
    expect(await day([], { SOURCE_DATE_EPOCH: "" })).toBe("2025-03-07");
    // 1750000000 seconds after 1970 began: 15 June 2025, 15:06:40 UTC.
    expect(await day([], { SOURCE_DATE_EPOCH: "1750000000" })).toBe("2025-06-15");
    expect(await day(["--date", "2026-03-31"], { SOURCE_DATE_EPOCH: "1750000000" })).toBe("2026-03-31");
  });

  it.each(["2026-02-30", "31/03/2026", "2026-3-1", "soon", "", "2026-03-31T00:00", "+2026-03-31"])(
    "--date '%s' is refused before anything is read or written",
    async (value) => {
      const { folder, out } = prepared();
      const { code, err } = await call(["report", join(folder, "absent.csv"), "--out", out, "--date", value]);
      expect(code).toBe(2);
      expect(err).toContain(`--date ${value}`);
      expect(filesIn(folder)).toEqual(["small.csv"]);
    },
  );

  it.each(["yesterday", "-1", "1.5", "99999999999999999"])("SOURCE_DATE_EPOCH '%s' is refused", async (value) => {
    const { data } = prepared();
    const called = await call(["report", data, "--json", "-"], {
      environment: { SOURCE_DATE_EPOCH: value },
    });
    expect([called.code, called.out]).toEqual([2, ""]);
    expect(called.err).toContain(value);
  });
});

/** What is said of the small survey in any case: it has six clusters. */
const fewClusters =
  "The survey has few clusters (6, degrees of freedom: 5): the intervals are wide and themselves uncertain.";

describe("where things go", () => {
  it("a report without --json says the paths on standard error, last, and nothing on standard output", async () => {
    const { data, out, folder } = prepared();
    const { code, out: stdout, said } = await call(["report", data, "--out", out, "--no-pdf"]);
    expect([code, stdout]).toEqual([0, ""]);
    const files = filesIn(join(out, "small"));
    expect(files).toEqual(expect.arrayContaining(["report.html", "results.json", "rows-to-check.csv"]));
    expect(
      files.filter(
        (name) => !/^(report\.html|results\.json|rows-to-check\.csv|tables\/([\w-]+\.csv|README\.txt))$/.test(name),
      ),
    ).toEqual([]);
    const single = [...files.filter((name) => !name.startsWith("tables/")), "tables"];
    expect([...said.slice(-single.length)].sort()).toEqual(single.map((name) => join(out, "small", name)).sort());
    expect(filesIn(folder)).toHaveLength(files.length + 1);
  });

  it("--json - writes the results to standard output and no file", async () => {
    const { data, out, folder } = prepared();
    const called = await call(["report", data, "--out", out, "--json", "-"]);
    expect([called.code, called.err.trim()]).toEqual([0, fewClusters]);
    expect(called.out.endsWith("\n")).toBe(true);
    expect(resultsSchema.parse(JSON.parse(called.out)).input.rowsRead).toBe(60);
    expect(filesIn(folder)).toEqual(["small.csv"]);
  });

  it("--quiet says nothing when all is well, and still says what is wrong", async () => {
    const { data, out } = prepared();
    expect(
      await call(["report", data, "--out", out, ...shortDraw], {
        watched: true,
      }),
    ).toMatchObject({
      code: 0,
      out: "",
      said: [],
    });
    const bad = prepared(csvOf(changed({ 5: { weight: "heavy" } })));
    const called = await call(["report", bad.data, "--out", bad.out, "--quiet"]);
    expect(called.code).toBe(2);
    expect(called.err).toContain("heavy");
  });

  it("stages are told only to a terminal that someone watches", async () => {
    const { data } = prepared();
    const watched = await call(["report", data, "--json", "-"], {
      watched: true,
    });
    expect(watched.said.length).toBeGreaterThanOrEqual(6);
    expect(new Set(watched.said).size).toBe(watched.said.length);
    expect(watched.err).not.toContain("[[");
    const alone = await call(["report", data, "--json", "-"]);
    expect(alone.said).toEqual([fewClusters]);
    expect(alone.out).toBe(watched.out);
  });

  it("NO_COLOR or not, the program writes no colour codes", async () => {
    const { data, out } = prepared();
    for (const environment of [{}, { NO_COLOR: "1" }, { FORCE_COLOR: "1" }] as Record<string, string>[]) {
      const { err } = await call(["report", data, "--out", out, "--no-pdf"], {
        watched: true,
        environment,
      });
      expect(err).not.toContain("\u001b");
    }
  });
});

describe("--fail-on", () => {
  /** Nine heights in ten are whole centimetres: a finding that the checks of last digits cannot miss. */
  const rounded = (): string =>
    csvOf(smallRows(600, 12).map((row, i) => (i % 10 === 0 ? row : { ...row, height: Number(row.height).toFixed(0) })));
  const readings = (out: string): Set<string> =>
    new Set(resultsSchema.parse(JSON.parse(out)).checks.map((check) => check.reading));

  it("a reading as bad or worse ends with 1, after everything was written", async () => {
    const { data, out } = prepared(rounded());
    const { out: json } = await call(["report", data, "--json", "-"]);
    expect(readings(json)).toContain("doubt");
    for (const limit of ["explain", "doubt"]) {
      expect((await call(["report", data, "--json", "-", "--fail-on", limit])).code).toBe(1);
    }
    const written = await call(["report", data, "--out", out, "--no-pdf", "--fail-on", "doubt"]);
    expect(written.code).toBe(1);
    expect(filesIn(out)).toContain("small/report.html");
  });

  it("'unknown' counts for --fail-on unknown alone, and nothing is counted without the option", async () => {
    const bare = smallRows(60, 6).map(({ muac: _, ...row }) => row);
    const { data } = prepared(csvOf(bare));
    const { code, out } = await call(["report", data, "--json", "-"]);
    expect(code).toBe(0);
    const found = readings(out);
    expect(found).toContain("unknown");
    expect(found).not.toContain("doubt");
    expect((await call(["report", data, "--json", "-", "--fail-on", "unknown"])).code).toBe(1);
    expect((await call(["report", data, "--json", "-", "--fail-on", "doubt"])).code).toBe(0);
  });
});

describe("a fault of the program", () => {
  it("ends with 70 and gives what a report of the fault needs", async () => {
    const { data } = prepared();
    const called = await call(["report", data, "--json", "-"], {
      out: () => {
        throw new Error("the pipe burst");
      },
    });
    expect(called.code).toBe(70);
    expect(called.err).toContain("the pipe burst");
  });
});

describe("languages", () => {
  it.each(["fr_FR!", "no such", "../../x", "qq", ""])("'%s', which has no words, is refused", async (language) => {
    const { data, folder, out } = prepared();
    const { code, err } = await call(["report", data, "--out", out, "--language", language, "--no-pdf"]);
    expect(code).toBe(2);
    expect(err).not.toContain("xx");
    expect(filesIn(folder)).toEqual(["small.csv"]);
  });
});

describe("describe", () => {
  it("writes the draft to standard output, and says nothing else", async () => {
    const { data, folder } = prepared();
    const called = await call(["describe", data]);
    expect([called.code, called.err]).toEqual([0, ""]);
    expect(called.out).toMatch(/^columns:$/m);
    expect(called.out).not.toContain("[[");
    expect(filesIn(folder)).toEqual(["small.csv"]);
  });

  it("--out never writes over a file", async () => {
    const { data, folder } = prepared();
    const draft = join(folder, "survey.yaml");
    const first = await call(["describe", data, "--out", draft]);
    expect([first.code, first.out]).toEqual([0, ""]);
    const text = readFileSync(draft, "utf8");
    writeFileSync(draft, "mine");
    const second = await call(["describe", data, "--out", draft]);
    expect(second.code).toBe(2);
    expect(second.err).toContain(draft);
    expect(readFileSync(draft, "utf8")).toBe("mine");
    expect(text).toMatch(/^data: small\.csv$/m);
  });

  it("a draft in another folder needs its data named, and says so", async () => {
    const { data, out } = prepared();
    const elsewhere = emptyFolder();
    const draft = join(elsewhere, "survey.yaml");
    const described = await call(["describe", data, "--out", draft]);
    expect(described.err).toContain(`--data ${data}`);
    const refused = await call(["report", draft, "--out", out, ...shortDraw]);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain("--data");
    const { code, err } = await call(["report", draft, "--data", data, "--out", out, ...shortDraw]);
    expect(code, err).toBe(0);
    expect(filesIn(join(out, "small"))).toContain("report.html");
  });

  it("a draft to a folder that is not there is refused", async () => {
    const { data, folder } = prepared();
    const { code, err } = await call(["describe", data, "--out", join(folder, "none", "survey.yaml")]);
    expect(code).toBe(2);
    expect(err).toContain(join(folder, "none", "survey.yaml"));
  });
});

describe("render", () => {
  it.each([
    ["text", "not json"],
    ["another format", '{"format":"something-else"}'],
    ["an array", "[]"],
    ["nothing", ""],
  ])("%s is refused", async (_, text) => {
    const { folder, out } = prepared();
    const path = join(folder, "results.json");
    writeFileSync(path, text);
    const { code, err } = await call(["render", path, "--out", out]);
    expect(code).toBe(2);
    expect(err).toContain(path);
    expect(filesIn(folder)).toEqual(["results.json", "small.csv"]);
  });

  it("results of another version of the format are refused, with the place", async () => {
    const { data, folder, out } = prepared();
    const { out: json } = await call(["report", data, "--json", "-"]);
    const path = join(folder, "results.json");
    writeFileSync(path, JSON.stringify({ ...JSON.parse(json), version: 99 }));
    const { code, err } = await call(["render", path, "--out", out]);
    expect(code).toBe(2);
    expect(err).toContain("version");
  });

  it("a name that would lead out of the output folder is refused", async () => {
    const { data, folder, out } = prepared();
    const { out: json } = await call(["report", data, "--json", "-"]);
    const results = JSON.parse(json);
    for (const name of ["../escaped", "..", "", "a/b", "/absolute"]) {
      const path = join(folder, "results.json");
      writeFileSync(path, JSON.stringify({ ...results, survey: { ...results.survey, name } }));
      const { code, err } = await call(["render", path, "--out", out, "--no-pdf"]);
      expect(code, name).toBe(2);
      expect(err).toContain("survey.name");
    }
    expect(filesIn(folder)).toEqual(["results.json", "small.csv"]);
  });

  it("in place, it keeps the list of rows that cannot be made again without the data", async () => {
    const { data, out } = prepared(csvOf([...smallRows(), ...smallRows().slice(0, 3)]));
    await call(["report", data, "--out", out, ...shortDraw]);
    const folder = join(out, "small");
    const before = filesIn(folder).map((name) => [name, readFileSync(join(folder, name), "utf8")]);
    expect(readFileSync(join(folder, "rows-to-check.csv"), "utf8").split("\r\n").length).toBeGreaterThan(4);
    const { code, err } = await call(["render", join(folder, "results.json"), "--out", out, "--no-pdf"]);
    expect(code, err).toBe(0);
    expect(filesIn(folder).map((name) => [name, readFileSync(join(folder, name), "utf8")])).toEqual(before);
  });
});

describe("render with limits to ask about", () => {
  it("judges them from results.json alone, as the report itself does", async () => {
    const folder = emptyFolder();
    const [out, again] = [join(folder, "out"), join(folder, "again")];
    const survey = "sample-input/quillmar.yaml";
    const { out: json } = await call(["report", survey, "--json", "-"]);
    const path = join(folder, "results.json");
    writeFileSync(path, json);
    const { code, err } = await call([
      "render",
      path,
      "--decision",
      "wasting=8%,stunting=30%",
      "--out",
      out,
      "--no-pdf",
    ]);
    expect(code, err).toBe(0);
    const drawn = resultsSchema.parse(JSON.parse(readFileSync(join(out, "quillmar", "results.json"), "utf8")));
    const asked = drawn.consequence?.claims
      .filter((claim) => claim.asked)
      .map(({ estimate, limit }) => [estimate, limit]);
    expect(asked).toEqual([
      ["wasting", 0.08],
      ["stunting", 0.3],
    ]);
    // The chance at a limit between two others lies between theirs.
    const ofWasting = drawn.consequence?.claims.filter(({ estimate }) => estimate === "wasting") ?? [];
    const chances = ofWasting.map(({ byChance }) => byChance ?? Number.NaN);
    expect([...chances].sort((a, b) => b - a)).toEqual(chances);
    const published = resultsSchema.parse(JSON.parse(json)).consequence?.claims ?? [];
    for (const claim of published.filter(({ limit, estimate }) => !(estimate === "stunting" && limit === 0.3)))
      expect(drawn.consequence?.claims).toContainEqual(claim);
    expect(drawn.story.sentence).not.toEqual(resultsSchema.parse(JSON.parse(json)).story.sentence);
    // Drawn again without the option it keeps what was asked.
    await call(["render", join(out, "quillmar", "results.json"), "--out", again, "--no-pdf"]);
    const kept = JSON.parse(readFileSync(join(again, "quillmar", "results.json"), "utf8"));
    expect(kept.consequence.claims).toEqual(drawn.consequence?.claims);
  }, 60_000);

  it.each(["wasting", "wasting=8", "hunger=8%", "wasting=0%", ""])("%j is refused", async (option) => {
    const { data, folder } = prepared();
    const { out: json } = await call(["report", data, "--json", "-"]);
    const path = join(folder, "results.json");
    writeFileSync(path, json);
    const { code, err } = await call(["render", path, "--decision", option, "--out", join(folder, "out"), "--no-pdf"]);
    expect(code).toBe(2);
    expect(err).toContain("wasting=8%");
  });
});

describe("example", () => {
  it("writes files from which reports can be made, and says their paths", async () => {
    const folder = join(emptyFolder(), "made");
    const { code, out, said } = await call(["example", "--out", folder]);
    expect([code, out]).toEqual([0, ""]);
    expect([...said].sort()).toEqual(filesIn(folder).map((name) => join(folder, name)));
    const report = await call(["report", join(folder, "quillmar-clean.yaml"), "--json", "-"]);
    expect(report.code, report.err).toBe(0);
  });

  it("replaces no file with another content, and then writes none at all", async () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, "README.md"), "mine");
    const refused = await call(["example", "--out", folder]);
    expect([refused.code, refused.out]).toEqual([2, ""]);
    expect(refused.err).toContain("README.md");
    expect(filesIn(folder)).toEqual(["README.md"]);
    expect(readFileSync(join(folder, "README.md"), "utf8")).toBe("mine");
  });

  it("leaves other files of the folder alone, and may be called again", async () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, "notes.txt"), "mine");
    expect((await call(["example", "--out", folder])).code).toBe(0);
    const before = filesIn(folder);
    expect((await call(["example", "--out", folder])).code).toBe(0);
    expect(filesIn(folder)).toEqual(before);
    expect(readFileSync(join(folder, "notes.txt"), "utf8")).toBe("mine");
    writeFileSync(join(folder, "quillmar.csv"), "edited");
    expect((await call(["example", "--out", folder])).code).toBe(2);
    expect(readFileSync(join(folder, "quillmar.csv"), "utf8")).toBe("edited");
  });
});
