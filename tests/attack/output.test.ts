import { execFileSync, spawn } from "node:child_process";
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { writeReport } from "../../src/render/write.js";
import { emptyFolder } from "../cli/run-here.js";
import { csvOf, smallRows } from "../cli/small-survey.js";
import { type Ended, filesIn, program } from "../whole/program.js";

const root = join(import.meta.dirname, "../..");
const again = join(import.meta.dirname, "write-again-and-again.mjs");
const html = ["--formats", "html", "--quiet"];

/** The number that every file of an output bears; throws where files of two outputs stand together or one is cut off. */
function wholeOutput(folder: string): number {
  const { number } = JSON.parse(readFileSync(join(folder, "results.json"), "utf8")) as { number: number };
  const names = ["report.html", "report.pdf", ...Array.from({ length: 12 }, (_, i) => `tables/t${i}.csv`)];
  for (const name of names) expect(readFileSync(join(folder, name), "utf8")).toBe(`${number}\n`.repeat(20_000));
  return number;
}

/** Starts to write outputs from this number on and kills the process after that time; the last number it said was written. */
function killedAfter(folder: string, first: number, milliseconds: number): Promise<number> {
  const built = pathToFileURL(join(root, "dist/render/write.js")).href;
  const child = spawn(process.execPath, [again, built, folder, String(first)]);
  let said = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    // The clock starts with the first output, however long the process takes to start.
    if (said === "") setTimeout(() => child.kill("SIGKILL"), milliseconds);
    said += text;
  });
  return new Promise((resolve) => child.on("close", () => resolve(Number(said.trim().split("\n").at(-1)))));
}

/** Some survey in a folder of its own, and a report made of it by the program. */
async function folderWithReport(): Promise<{ readonly folder: string; report: (...more: string[]) => Promise<Ended> }> {
  const folder = emptyFolder();
  writeFileSync(join(folder, "small.csv"), csvOf(smallRows()));
  const report = (...more: string[]) => program(["report", "small.csv", ...html, ...more], folder);
  expect(await report()).toMatchObject({ code: 0 });
  return { folder, report };
}

/** Everything below a folder as text, to be compared. */
function contentsOf(folder: string): Map<string, string> {
  return new Map([...filesIn(folder)].map(([name, bytes]) => [name, bytes.toString("base64")]));
}

describe("a run that is killed", () => {
  it("at any of 50 moments leaves a whole output, the earlier or the next, or puts it back at the next run", async () => {
    const folder = join(emptyFolder(), "out");
    let [number, aside] = [1, 0];
    for (let run = 0; run < 50; run++) {
      const last = await killedAfter(folder, number, (run * 37) % 83);
      // Between the two renames the earlier output lies aside, whole; the next run begins with putting it back.
      if (!existsSync(folder)) {
        aside += 1;
        const [name = ""] = readdirSync(join(folder, "..")).filter((one) => one.startsWith(".out.tareline-earlier-"));
        expect(wholeOutput(join(folder, "..", name))).toBeGreaterThanOrEqual(last);
      } else expect(wholeOutput(folder)).toBeGreaterThanOrEqual(last);
      number = last + 2;
    }
    expect(aside).toBeLessThan(10);
  });

  it("between the two renames has its earlier output put back, also where the next run fails", async () => {
    const folder = join(emptyFolder(), "out");
    const files = [{ name: "results.json", content: '{"format":"tareline-results"}' }];
    await writeReport(folder, files);
    renameSync(folder, join(folder, "..", ".out.tareline-earlier-0123456789ab"));
    writeFileSync(join(folder, "..", ".out.tareline-earlier-0123456789ab", "mine.txt"), "somebody's own");
    await expect(writeReport(folder, files)).rejects.toThrow("output.foreign-files");
    expect(readdirSync(folder).sort()).toEqual(["mine.txt", "results.json"]);
  });
});

describe("two runs at once into one folder", () => {
  it.each([0, 150])("the second %i ms after the first, or before it: one whole report stands", async (wait) => {
    const { folder, report } = await folderWithReport();
    const later = async (delay: number, ...more: string[]) => {
      await new Promise((resolve) => setTimeout(resolve, delay));
      return report(...more);
    };
    for (const [first, second] of [
      [0, wait],
      [wait, 0],
    ] as const) {
      const both = await Promise.all([later(first), later(second, "--date", "2025-05-05")]);
      for (const { code, err } of both) expect([code, err]).toEqual([0, ""]);
      const written = contentsOf(join(folder, "out", "small"));
      const alone = await Promise.all([report("--out", "a"), report("--out", "b", "--date", "2025-05-05")]);
      expect(alone.map(({ code }) => code)).toEqual([0, 0]);
      expect([contentsOf(join(folder, "a", "small")), contentsOf(join(folder, "b", "small"))]).toContainEqual(written);
      expect(readdirSync(join(folder, "out"))).toEqual(["small"]);
    }
  });
});

describe("a disk that is full, or may not be written", () => {
  const mayMount = process.platform === "linux" && process.getuid?.() === 0;
  const mounted = async (size: string, work: (disk: string) => Promise<void>, skip: (why: string) => void) => {
    const disk = join(emptyFolder(), "disk");
    mkdirSync(disk);
    try {
      execFileSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", disk], { stdio: "ignore" });
    } catch {
      skip("this machine lets nobody mount a small disk");
    }
    try {
      await work(disk);
    } finally {
      execFileSync("umount", [disk]);
    }
  };

  it.skipIf(!mayMount)("of 1 MB: said in words, nothing left on it, the earlier report untouched", async (context) => {
    const { folder } = await folderWithReport();
    await mounted(
      "1m",
      async (disk) => {
        const run = () => program(["report", join(folder, "small.csv"), ...html, "--out", disk], folder);
        const first = await run();
        expect(first.code).toBe(2);
        expect(first.err).not.toMatch(/^ {4}at /m);
        expect(readdirSync(disk)).toEqual([]);
        const earlier = { "report.html": "<p>", "results.json": '{"format":"tareline-results"}' };
        mkdirSync(join(disk, "small"));
        for (const [name, text] of Object.entries(earlier)) writeFileSync(join(disk, "small", name), text);
        expect((await run()).code).toBe(2);
        const names = readdirSync(join(disk, "small")).sort();
        const left = names.map((name) => [name, readFileSync(join(disk, "small", name), "utf8")]);
        expect(Object.fromEntries(left)).toEqual(earlier);
        expect(readdirSync(disk)).toEqual(["small"]);
        // The list of problems cannot be written either: the problems are said all the same.
        writeFileSync(join(disk, "filler"), "");
        try {
          writeFileSync(join(disk, "filler"), Buffer.alloc(2_000_000));
        } catch {
          // Full now.
        }
        writeFileSync(join(folder, "broken.csv"), "sex,weight\nm,heavy\n");
        const broken = await program(["report", join(folder, "broken.csv"), "--out", disk], folder);
        expect([broken.code, broken.err.includes("broken.csv")]).toEqual([2, true]);
      },
      (why) => context.skip(why),
    );
  });

  it.skipIf(!mayMount)("mounted read-only: said in words", async (context) => {
    const { folder } = await folderWithReport();
    await mounted(
      "1m",
      async (disk) => {
        execFileSync("mount", ["-o", "remount,ro", disk]);
        const ended = await program(["report", join(folder, "small.csv"), ...html, "--out", disk], folder);
        expect(ended.code).toBe(2);
        expect(ended.err).not.toMatch(/^ {4}at /m);
      },
      (why) => context.skip(why),
    );
  });

  it.skipIf(process.platform !== "linux")("that takes no folders at all ends, and is said", async () => {
    const { folder } = await folderWithReport();
    const ended = await program(["report", "small.csv", ...html, "--out", "/proc/tareline"], folder);
    expect(ended.code).toBe(2);
    expect(ended.err).not.toMatch(/^ {4}at /m);
  });
});

describe.skipIf(process.platform === "win32")("links in the output's place", () => {
  const files = (mark: string) => [
    { name: "report.html", content: mark },
    { name: "results.json", content: '{"format":"tareline-results"}' },
    { name: "tables/a.csv", content: mark },
  ];

  it("a file or folder of the earlier output that is a link is replaced, what it points to is left alone", async () => {
    const base = emptyFolder();
    const out = join(base, "out");
    await writeReport(out, files("one"));
    const precious = join(base, "precious");
    mkdirSync(precious);
    writeFileSync(join(precious, "a.csv"), "years of work");
    rmSync(join(out, "report.html"));
    symlinkSync(join(precious, "a.csv"), join(out, "report.html"));
    rmSync(join(out, "tables"), { recursive: true });
    symlinkSync(precious, join(out, "tables"));
    await writeReport(out, files("two"));
    expect(lstatSync(join(out, "report.html")).isSymbolicLink()).toBe(false);
    expect(readFileSync(join(out, "tables", "a.csv"), "utf8")).toBe("two");
    expect(readFileSync(join(precious, "a.csv"), "utf8")).toBe("years of work");
    expect(readdirSync(precious)).toEqual(["a.csv"]);
  });

  it("a link to a folder of somebody else's is refused, one that leads nowhere or in a circle is said", async () => {
    const base = emptyFolder();
    const precious = join(base, "precious");
    mkdirSync(precious);
    writeFileSync(join(precious, "thesis.txt"), "years of work");
    symlinkSync(precious, join(base, "a"));
    symlinkSync(join(base, "nowhere"), join(base, "b"));
    symlinkSync("c", join(base, "c"));
    await expect(writeReport(join(base, "a"), files("one"))).rejects.toThrow("output.not-ours");
    await expect(writeReport(join(base, "c"), files("one"))).rejects.toThrow("output.");
    await writeReport(join(base, "b"), files("one"));
    expect(readFileSync(join(base, "b", "report.html"), "utf8")).toBe("one");
    expect(readdirSync(precious)).toEqual(["thesis.txt"]);
  });
});
