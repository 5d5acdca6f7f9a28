import { spawn } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { privateFolder } from "../../src/render/pdf/private-folder.js";
import { call } from "../cli/run-here.js";
import { csvOf, smallRows } from "../cli/small-survey.js";
import { newFolder } from "./program.js";

const start = join(import.meta.dirname, "../../dist/cli/start.js");

let folder: string;
let data: string;

beforeAll(() => {
  folder = newFolder();
  data = join(folder, "small.csv");
  writeFileSync(data, csvOf(smallRows(120)));
});

interface Ending {
  readonly code: number | null;
  readonly err: string;
}

/** The program under a shell, for what only a shell does: pipes, devices. */
function shell(command: string, environment: Readonly<Record<string, string>> = {}): Promise<Ending> {
  return new Promise((resolve) => {
    const child = spawn("bash", ["-c", command], { cwd: folder, env: { ...process.env, ...environment } });
    let err = "";
    child.stderr.setEncoding("utf8").on("data", (text: string) => (err += text));
    child.on("close", (code) => resolve({ code, err }));
  });
}

/** A script that stands in for a browser. */
function browser(name: string, script: string): string {
  const path = join(folder, name);
  writeFileSync(path, `#!/bin/sh\n${script}\n`);
  chmodSync(path, 0o755);
  return path;
}

describe("output that cannot be written", () => {
  it("to a reader that has gone: a sentence and a code of its own", async () => {
    const command = `node ${start} report ${data} --json - | head -c 5 >/dev/null; exit \${PIPESTATUS[0]}`;
    const { code, err } = await shell(command, { LANG: "C" });
    expect(code).toBe(74);
    expect(err).toContain("the program that reads it has ended");
    expect(err).not.toMatch(/\n\s+at /);
  });

  it.skipIf(!existsSync("/dev/full"))("to a device that is full: the same, with what the system says", async () => {
    const { code, err } = await shell(`node ${start} report ${data} --json - >/dev/full`, { LANG: "fr_FR.UTF-8" });
    expect(code).toBe(74);
    expect(err).toContain("ENOSPC");
    expect(err).toContain("sortie");
  });
});

describe("a home that cannot be made", () => {
  it.skipIf(!existsSync("/proc/self"))("is refused at once, and not tried for ever", () => {
    expect(() => privateFolder("/proc/no-home/.cache/tareline")).toThrow();
  });
});

// Side by side: two of them wait half a minute for the limit.
describe.concurrent("a browser that", () => {
  it("never answers: the page is there all the same, and the limit is said", async () => {
    const out = join(folder, "hangs");
    const path = browser("hangs.sh", "exec sleep 600");
    const running = call(["report", data, "--out", out, "--browser", path, "--quiet"]);
    // Written before anything is printed.
    const page = join(out, "small/report.html");
    for (let i = 0; i < 200 && !existsSync(page); i++) await new Promise((wait) => setTimeout(wait, 100));
    expect(existsSync(page)).toBe(true);
    const { code, err } = await running;
    expect(code).toBe(0);
    expect(err).toContain("30");
    expect(readdirSync(join(out, "small")).sort()).toContain("report.html");
    expect(existsSync(join(out, "small/report.pdf"))).toBe(false);
  }, 90_000);

  it("floods everything it may write to does not keep the program from ending", async () => {
    const path = browser("floods.sh", "yes flood >&2 & yes flood >&4 & yes flood; wait");
    const { code, err } = await call(["report", data, "--out", join(folder, "floods"), "--browser", path, "--quiet"]);
    expect(code).toBe(0);
    expect(err).not.toBe("");
    expect(existsSync(join(folder, "floods/small/report.html"))).toBe(true);
  }, 90_000);

  it("is not there, where only a PDF was asked for: not a success", async () => {
    const options = ["--formats", "pdf", "--browser", join(folder, "no-such-browser"), "--quiet"];
    const { code, err } = await call(["report", data, "--out", join(folder, "only-pdf"), ...options]);
    expect(code).toBe(74);
    expect(err).not.toBe("");
  });
});

describe("a signal", () => {
  it.each(["SIGTERM", "SIGHUP", "SIGINT"] as const)(
    "%s ends the run and leaves nothing half written",
    async (signal) => {
      const out = join(folder, `ended-${signal}`);
      const temporary = join(folder, `temporary-${signal}`);
      mkdirSync(temporary);
      const path = browser(`waits-${signal}.sh`, "exec sleep 600");
      const args = [start, "report", data, "--out", out, "--browser", path];
      const child = spawn(process.execPath, args, { env: { ...process.env, TMPDIR: temporary } });
      const ended = new Promise<number | null>((resolve) => child.on("close", resolve));
      for (let i = 0; i < 200 && readdirSync(temporary).length === 0; i++)
        await new Promise((wait) => setTimeout(wait, 50));
      expect(readdirSync(temporary).length).toBeGreaterThan(0);
      child.kill(signal);
      expect(await ended).toBe(128 + { SIGTERM: 15, SIGHUP: 1, SIGINT: 2 }[signal]);
      expect(readdirSync(temporary)).toEqual([]);
      const beside = existsSync(out) ? readdirSync(out) : [];
      expect(beside.filter((name) => name.startsWith("."))).toEqual([]);
    },
    60_000,
  );
});

describe("what a killed run left in the folder for temporary files", () => {
  it("is cleared away by the next print when it is old, and left alone when it is not", async () => {
    const old = join(tmpdir(), "tareline-print-oldtest");
    const young = join(tmpdir(), "tareline-print-youngtest");
    for (const path of [old, young]) mkdirSync(path, { recursive: true });
    const longAgo = new Date(Date.now() - 7_200_000);
    utimesSync(old, longAgo, longAgo);
    await call([
      "report",
      data,
      "--out",
      join(folder, "clears"),
      "--browser",
      browser("fails.sh", "exit 3"),
      "--quiet",
    ]);
    expect([existsSync(old), existsSync(young)]).toEqual([false, true]);
  }, 60_000);
});

describe("results.json that was tampered with", () => {
  const out = () => join(folder, "for-results");
  beforeAll(async () => {
    expect((await call(["report", data, "--out", out(), "--no-pdf", "--quiet"])).code).toBe(0);
  });

  it.each([
    [
      "a table whose name leads elsewhere",
      (results: Spoilt) => spoil(results, (table) => ({ ...table, id: "../../x" })),
    ],
    [
      "a check that stands twice",
      (results: Spoilt) => ({ ...results, checks: [...results.checks, results.checks[0]] }),
    ],
  ])("%s is refused with a sentence", async (_, change) => {
    const results = JSON.parse(readFileSync(join(out(), "small/results.json"), "utf8"));
    const path = join(folder, "spoilt.json");
    writeFileSync(path, JSON.stringify(change(results)));
    const again = join(folder, "again");
    const { code, err } = await call(["render", path, "--no-pdf", "--out", again]);
    expect(code).toBe(2);
    expect(err).toContain("spoilt.json");
    expect(err).not.toMatch(/\n\s+at /);
    expect(existsSync(again)).toBe(false);
  });
});

interface Spoilt {
  readonly checks: readonly { readonly tables: readonly object[] }[];
}

function spoil(results: Spoilt, change: (table: object) => object): Spoilt {
  return { ...results, checks: results.checks.map((check) => ({ ...check, tables: check.tables.map(change) })) };
}

describe("settings that are no YAML", () => {
  it.each([
    ["name: a: b", "colon"],
    ["name: s\n\tdata: x.csv", "tab"],
    ["name: 'open", "missing"],
    ["name: s\nname: t", "twice"],
  ])("%j is told in words, without a code", async (text, word) => {
    const path = join(folder, "broken.yaml");
    writeFileSync(path, text);
    const { code, err } = await call(["report", path, "--out", folder], { environment: { LANG: "C" } });
    expect(code).toBe(2);
    expect(err).toContain(word);
    expect(err).not.toMatch(/[A-Z]{3,}_[A-Z]+/);
  });
});

describe("languages", () => {
  it("the pseudo-language is not offered", async () => {
    const { code, err } = await call(["report", data, "--language", "zz"], { environment: { LANG: "C" } });
    expect(code).toBe(2);
    expect(err).toContain("fr");
    expect(err).not.toContain("xx");
  });
});

describe("names in compare.yaml that nothing has", () => {
  it("are refused, each with the nearest that is there", async () => {
    const at = newFolder();
    for (const name of ["first", "second"]) {
      writeFileSync(join(at, `${name}.csv`), csvOf(smallRows(name === "first" ? 120 : 132)));
      writeFileSync(join(at, `${name}.yaml`), `name: ${name}\ndata: ${name}.csv\n`);
    }
    const yaml = [
      "surveys:",
      "  - { file: first.yaml, place: Here, round: one }",
      "  - { file: second.yaml, place: There, round: one }",
      "estimates: [wastng, stunting]",
      "pairs: [{ first: first.yaml, second: secnd.yaml }]",
      "tiles: [[Here, Thare]]",
    ].join("\n");
    writeFileSync(join(at, "compare.yaml"), yaml);
    const { code, err } = await call(["compare", join(at, "compare.yaml"), "--no-pdf", "--out", join(at, "out")]);
    expect(code).toBe(2);
    for (const part of ["wastng", "wasting", "secnd.yaml", "second.yaml", "Thare", "There"])
      expect(err).toContain(part);
    expect(existsSync(join(at, "out"))).toBe(false);
  }, 60_000);
});

describe("a long file", () => {
  it("shows how far reading has come, where somebody watches", async () => {
    const path = join(folder, "long.csv");
    const [header = "", ...rows] = csvOf(smallRows(100)).trimEnd().split("\n");
    const many = Array.from({ length: 2_100 }, () => rows.join("\n"));
    // The last row is refused, so that nothing is computed of them.
    const refused = (rows[0] ?? "").replace(/\d+\.\d+/, "heavy");
    writeFileSync(path, [header, ...many, refused].join("\n"));
    const { code, said } = await call(["report", path, "--json", "-"], { watched: true, out: () => {} });
    expect(code).toBe(2);
    expect(said.some((line) => line.includes("200,000"))).toBe(true);
  }, 120_000);
});
