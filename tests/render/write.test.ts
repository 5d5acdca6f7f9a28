import { execFileSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { OutputProblem } from "../../src/render/output-folder.js";
import { writeReport } from "../../src/render/write.js";

/** Which step of the disk fails, with what; none unless a test says so. */
const failing = vi.hoisted(() => ({ step: "", code: "", after: 0 }));

vi.mock("node:fs/promises", async (original) => {
  const real = await original<typeof import("node:fs/promises")>();
  const failAt = (step: string) => {
    if (failing.step !== step) return;
    failing.after -= 1;
    if (failing.after >= 0) return;
    throw Object.assign(new Error(`${failing.code}: made up for the test`), { code: failing.code });
  };
  return {
    ...real,
    open: async (...given: Parameters<typeof real.open>) => {
      failAt("open");
      const file = await real.open(...given);
      const sync = file.sync.bind(file);
      file.sync = async () => {
        failAt("sync");
        await sync();
      };
      return file;
    },
    rename: async (...given: Parameters<typeof real.rename>) => {
      failAt("rename");
      return real.rename(...given);
    },
  };
});

const results = JSON.stringify({ format: "tareline-results", version: 1 });
const files = (mark: string) => [
  { name: "report.html", content: `<p>${mark}` },
  { name: "report.pdf", content: new Uint8Array([37, 80, 68, 70]) },
  { name: "results.json", content: results },
  { name: "tables/age.csv", content: `\uFEFF${mark}\r\n` },
];

let base: string;
let out: string;
beforeEach(() => {
  base = realpathSync(mkdtempSync(join(tmpdir(), "write-")));
  out = join(base, "out", "survey");
});
afterEach(() => {
  Object.assign(failing, { step: "", code: "", after: 0 });
  rmSync(base, { recursive: true, force: true });
});

const html = () => readFileSync(join(out, "report.html"), "utf8");

async function problemOf(folder = out, mark = "new"): Promise<OutputProblem> {
  const outcome = await writeReport(folder, files(mark)).catch((error: unknown) => error);
  expect(outcome).toBeInstanceOf(OutputProblem);
  return outcome as OutputProblem;
}

describe("writeReport", () => {
  test("writes everything, says where, and leaves nothing beside it", async () => {
    const written = await writeReport(out, files("one"));
    expect(written).toEqual({
      folder: out,
      paths: ["report.html", "report.pdf", "results.json", "tables/age.csv"].map((name) => join(out, name)),
      leftBehind: [],
    });
    expect(html()).toBe("<p>one");
    expect([...readFileSync(join(out, "report.pdf"))]).toEqual([37, 80, 68, 70]);
    expect([...readFileSync(join(out, "tables/age.csv"))].slice(0, 3)).toEqual([0xef, 0xbb, 0xbf]);
    expect(readdirSync(join(base, "out"))).toEqual(["survey"]);
  });

  test("the folder may be read by whom the user's own settings let read", async () => {
    const plain = join(base, "plain");
    mkdirSync(plain);
    await writeReport(out, files("one"));
    expect(statSync(out).mode).toBe(statSync(plain).mode);
  });

  test("replaces an earlier output as a whole: a file no longer written is gone", async () => {
    await writeReport(out, [...files("one"), { name: "tables/gone.csv", content: "x" }]);
    await writeReport(out, files("two"));
    expect(html()).toBe("<p>two");
    expect(readdirSync(join(out, "tables"))).toEqual(["age.csv"]);
    expect(readdirSync(join(base, "out"))).toEqual(["survey"]);
  });

  test("takes an empty folder, and one with only what a file manager left", async () => {
    mkdirSync(out, { recursive: true });
    await writeReport(out, files("one"));
    const shown = join(base, "shown");
    mkdirSync(shown);
    writeFileSync(join(shown, ".DS_Store"), "");
    await writeReport(shown, files("one"));
    expect(readdirSync(shown)).toContain("report.html");
  });

  test.skipIf(process.platform === "win32")("writes where a link points, and keeps the link", async () => {
    const real = join(base, "real");
    mkdirSync(real);
    symlinkSync(real, join(base, "link"));
    const written = await writeReport(join(base, "link"), files("one"));
    expect(written.folder).toBe(real);
    expect(lstatSync(join(base, "link")).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(base, "link", "report.html"), "utf8")).toBe("<p>one");
  });

  test("many runs at once into one folder leave one whole output", async () => {
    await writeReport(out, files("first"));
    const marks = Array.from({ length: 8 }, (_, run) => `run${run}`);
    const outcomes = await Promise.allSettled(marks.map((mark) => writeReport(out, files(mark))));
    expect(outcomes.some((outcome) => outcome.status === "fulfilled")).toBe(true);
    const mark = html().slice(3);
    expect(marks).toContain(mark);
    expect(readFileSync(join(out, "tables/age.csv"), "utf8")).toBe(`\uFEFF${mark}\r\n`);
    expect(readdirSync(join(base, "out"))).toEqual(["survey"]);
  });

  test("clears away the unfinished folder of a run that was killed long ago, not a fresh one", async () => {
    const [old, fresh] = ["a", "b"].map((name) => join(base, "out", `.survey.tareline-writing-${name}`));
    for (const path of [old, fresh]) mkdirSync(path as string, { recursive: true });
    utimesSync(old as string, 1, 1);
    await writeReport(out, files("one"));
    expect(readdirSync(join(base, "out")).sort()).toEqual([".survey.tareline-writing-b", "survey"]);
  });

  test.each(["../report.html", "/report.html", "tables//x.csv", "a\\b.csv", "c:x", "tables/../../x", "."])(
    "refuses the name %s",
    async (name) => {
      await expect(writeReport(out, [{ name, content: "x" }])).rejects.toThrow();
      expect(existsSync(join(base, "out"))).toBe(false);
    },
  );
});

describe("a folder that is not Tareline's", () => {
  test("is refused and left as it is", async () => {
    mkdirSync(out, { recursive: true });
    writeFileSync(join(out, "thesis.docx"), "years of work");
    const problem = await problemOf();
    expect(problem.said).toMatchObject({ id: "output.not-ours", values: { folder: out, names: ["thesis.docx"] } });
    expect(problem.exitCode).toBe(2);
    expect(readdirSync(out)).toEqual(["thesis.docx"]);
    expect(readdirSync(join(base, "out"))).toEqual(["survey"]);
  });

  test("is not taken for ours because of a results.json of another program, or a damaged one", async () => {
    mkdirSync(out, { recursive: true });
    for (const content of ['{"format":"other"}', "null", "{", '["tareline-results"]']) {
      writeFileSync(join(out, "results.json"), content);
      expect((await problemOf()).said.id).toBe("output.not-ours");
      expect(readFileSync(join(out, "results.json"), "utf8")).toBe(content);
    }
  });

  test("nor when somebody kept a file of their own among the results", async () => {
    await writeReport(out, files("one"));
    writeFileSync(join(out, "tables", "my notes.xlsx"), "mine");
    const problem = await problemOf();
    expect(problem.said).toMatchObject({
      id: "output.foreign-files",
      values: { count: 1, names: ["tables/my notes.xlsx"] },
    });
    expect(html()).toBe("<p>one");
    expect(readFileSync(join(out, "tables", "my notes.xlsx"), "utf8")).toBe("mine");
  });

  test("nor a file in its place, or above it", async () => {
    writeFileSync(join(base, "file"), "x");
    expect((await problemOf(join(base, "file"))).said.id).toBe("output.not-a-folder");
    expect((await problemOf(join(base, "file", "below"))).said.id).toBe("output.not-a-folder");
    expect(readFileSync(join(base, "file"), "utf8")).toBe("x");
  });
});

describe("a failing disk", () => {
  const cases = [
    { step: "sync", code: "ENOSPC", after: 2, id: "output.disk-full" },
    { step: "open", code: "EACCES", after: 1, id: "output.not-permitted" },
    { step: "open", code: "EROFS", after: 0, id: "output.not-permitted" },
    { step: "sync", code: "EDQUOT", after: 0, id: "output.disk-full" },
    // The first rename moves the earlier output aside, the second puts the new one in its place.
    { step: "rename", code: "EIO", after: 0, id: "output.failed" },
  ];

  test.each(cases)("$code at $step leaves the earlier output and nothing else", async ({ id, ...fault }) => {
    await writeReport(out, files("one"));
    Object.assign(failing, fault);
    const problem = await problemOf();
    expect(problem.said.id).toBe(id);
    expect(problem.exitCode).toBe(2);
    expect(html()).toBe("<p>one");
    expect(readdirSync(join(base, "out"))).toEqual(["survey"]);
  });

  test.each(cases)("$code at $step leaves nothing where nothing was", async ({ id, ...fault }) => {
    Object.assign(failing, fault);
    expect((await problemOf()).said.id).toBe(id);
    expect(readdirSync(base)).toEqual([]);
  });

  test("an earlier output that was moved aside comes back when the new one cannot take its place", async () => {
    await writeReport(out, files("one"));
    const real = await vi.importActual<typeof import("node:fs/promises")>("node:fs/promises");
    const fs = await import("node:fs/promises");
    let renames = 0;
    const spy = vi.spyOn(fs, "rename").mockImplementation(async (from, to) => {
      renames += 1;
      if (renames === 2) throw Object.assign(new Error("EIO"), { code: "EIO" });
      return real.rename(from, to);
    });
    expect((await problemOf()).said.id).toBe("output.failed");
    spy.mockRestore();
    expect(renames).toBe(3);
    expect(html()).toBe("<p>one");
    expect(readdirSync(join(base, "out"))).toEqual(["survey"]);
  });

  // Root may write anywhere.
  test.skipIf(process.platform === "win32" || process.getuid?.() === 0)("a folder one may not write in", async () => {
    mkdirSync(join(base, "out"));
    chmodSync(join(base, "out"), 0o500);
    expect((await problemOf()).said.id).toBe("output.not-permitted");
    chmodSync(join(base, "out"), 0o700);
    expect(readdirSync(join(base, "out"))).toEqual([]);
  });

  // Only root may mount a small disk to fill it.
  const canMount = process.platform === "linux" && process.getuid?.() === 0;
  test.skipIf(!canMount)("a disk that is really full keeps the earlier output", async (context) => {
    const disk = join(base, "disk");
    mkdirSync(disk);
    try {
      execFileSync("mount", ["-t", "tmpfs", "-o", "size=200k", "tmpfs", disk], { stdio: "ignore" });
    } catch {
      // A container's root often may not.
      context.skip();
    }
    try {
      out = join(disk, "survey");
      await writeReport(out, files("one"));
      const large = [...files("two"), { name: "annex.docx", content: new Uint8Array(400_000) }];
      const outcome = await writeReport(out, large).catch((error: unknown) => error);
      expect(outcome).toMatchObject({ said: { id: "output.disk-full" } });
      expect(html()).toBe("<p>one");
      expect(readdirSync(disk)).toEqual(["survey"]);
      expect((await problemOf(disk)).said.id).toMatch(/^output\.(not-ours|own-volume)$/);
    } finally {
      execFileSync("umount", [disk]);
    }
  });
});
