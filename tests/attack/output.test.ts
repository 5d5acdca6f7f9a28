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
import { OutputProblem } from "../../src/render/output-folder.js";
import { writeReport } from "../../src/render/write.js";
import { emptyFolder } from "../cli/run-here.js";
import { csvOf, smallRows } from "../cli/small-survey.js";
import { filesIn, program } from "../whole/program.js";

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

/** Some survey in a folder of its own. */
function folderWithData(): string {
  const folder = emptyFolder();
  writeFileSync(join(folder, "small.csv"), csvOf(smallRows()));
  return folder;
}

const earlier = [
  { name: "report.html", content: "<p>" },
  { name: "results.json", content: '{"format":"tareline-results"}' },
];

/** What the writer says of a folder that it cannot write to. */
async function saidOf(folder: string): Promise<string> {
  const outcome = await writeReport(folder, earlier).catch((error: unknown) => error);
  expect(outcome).toBeInstanceOf(OutputProblem);
  return (outcome as OutputProblem).said.id;
}

/** Everything below a folder as text. */
function contentsOf(folder: string): Map<string, string> {
  return new Map([...filesIn(folder)].map(([name, bytes]) => [name, bytes.toString("utf8")]));
}

describe("a run that is killed", () => {
  /** Fifty by hand (`npm run attack`), fewer among the other tests. */
  const kills = Number(process.env.TARELINE_ATTACK_KILLS ?? 8);

  it("at any moment leaves a whole output, the earlier or the next, or puts it back at the next run", async () => {
    const folder = join(emptyFolder(), "out");
    let [number, aside] = [1, 0];
    for (let run = 0; run < kills; run++) {
      const last = await killedAfter(folder, number, (run * 37) % 83);
      // Between the two renames the earlier output lies aside, whole; the next run begins with putting it back.
      if (!existsSync(folder)) {
        aside += 1;
        const [name = ""] = readdirSync(join(folder, "..")).filter((one) => one.startsWith(".out.tareline-earlier-"));
        expect(wholeOutput(join(folder, "..", name))).toBeGreaterThanOrEqual(last);
      } else expect(wholeOutput(folder)).toBeGreaterThanOrEqual(last);
      number = last + 2;
    }
    expect(aside).toBeLessThan(kills / 2);
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
  it("that write again and again until one of them is killed leave one whole output and no other", async () => {
    const folder = join(emptyFolder(), "out");
    await Promise.all([killedAfter(folder, 1, 700), killedAfter(folder, 500_000, 900)]);
    if (existsSync(folder)) wholeOutput(folder);
    await writeReport(folder, [{ name: "results.json", content: '{"format":"tareline-results"}' }]);
    expect(readdirSync(folder)).toEqual(["results.json"]);
  });

  it.each(["first", "second"])(
    "by the whole program, the %s a little later: one whole report stands",
    async (later) => {
      const folder = folderWithData();
      const report = (...more: string[]) => program(["report", "small.csv", ...html, ...more], folder);
      const reportIn = async (delay: number, ...more: string[]) => {
        await new Promise((resolve) => setTimeout(resolve, delay));
        return report(...more);
      };
      const both = await Promise.all([
        reportIn(later === "first" ? 60 : 0, "--date", "2025-04-04"),
        reportIn(later === "second" ? 60 : 0, "--date", "2025-05-05"),
      ]);
      for (const { code, err } of both) expect([code, err]).toEqual([0, ""]);
      const written = contentsOf(join(folder, "out", "small"));
      const { madeOn } = JSON.parse(String(written.get("results.json"))) as { madeOn: string };
      expect(["2025-04-04", "2025-05-05"]).toContain(madeOn);
      const other = madeOn === "2025-04-04" ? "5 May 2025" : "4 April 2025";
      expect(String(written.get("report.html"))).not.toContain(other);
      expect(readdirSync(join(folder, "out"))).toEqual(["small"]);
    },
  );
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
    const folder = folderWithData();
    await mounted(
      "1m",
      async (disk) => {
        await writeReport(join(disk, "small"), earlier);
        const ended = await program(["report", join(folder, "small.csv"), ...html, "--out", disk], folder);
        expect([ended.code, / {4}at /.test(ended.err)]).toEqual([2, false]);
        const left = [...contentsOf(join(disk, "small"))].map(([name, content]) => ({ name, content }));
        expect(left).toEqual(earlier);
        expect(readdirSync(disk)).toEqual(["small"]);
        // The list of problems cannot be written either: the problems are said all the same.
        expect(() => writeFileSync(join(disk, "filler"), Buffer.alloc(2_000_000))).toThrow("ENOSPC");
        writeFileSync(join(folder, "broken.csv"), "sex,weight\nm,heavy\n");
        const broken = await program(["report", join(folder, "broken.csv"), "--out", disk], folder);
        expect([broken.code, broken.err.includes("broken.csv")]).toEqual([2, true]);
        expect(readdirSync(disk).sort()).toEqual(["filler", "small"]);
      },
      (why) => context.skip(why),
    );
  });

  it.skipIf(!mayMount)("mounted read-only: said in words", async (context) => {
    await mounted(
      "1m",
      async (disk) => {
        await writeReport(join(disk, "small"), earlier);
        execFileSync("mount", ["-o", "remount,ro", disk]);
        expect(await saidOf(join(disk, "small"))).toBe("output.not-permitted");
        expect(await saidOf(join(disk, "other", "small"))).toBe("output.not-permitted");
        expect(contentsOf(join(disk, "small")).size).toBe(earlier.length);
      },
      (why) => context.skip(why),
    );
  });

  it.skipIf(process.platform !== "linux")("that takes no folders at all ends, and is said", async () => {
    expect(await saidOf("/proc/tareline/small")).toMatch(/^output\./);
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
