import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { readTar } from "../../../src/render/pdf/tar.js";

// The archives are made by the machine's own tar, so that the reader is tried on what another program wrote.
const folder = mkdtempSync(join(tmpdir(), "tar-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function archive(...names: string[]): Uint8Array {
  execFileSync("tar", ["--format=ustar", "-cf", "made.tar", ...names], { cwd: folder });
  return Uint8Array.from(readFileSync(join(folder, "made.tar")));
}

const deep = `${"long-folder-name/".repeat(7)}file.txt`;
mkdirSync(join(folder, deep, ".."), { recursive: true });
mkdirSync(join(folder, "lib"));
writeFileSync(join(folder, "lib", "empty"), "");
writeFileSync(join(folder, "lib", "exact"), "x".repeat(512), { mode: 0o755 });
writeFileSync(join(folder, "lib", "more"), "é".repeat(700));
writeFileSync(join(folder, deep), "deep");

describe("readTar", () => {
  test("gives every file's name, content and permission to run, of any size", () => {
    const files = [...readTar(archive("lib", deep))].map((file) => [file.name, Buffer.from(file.content).toString()]);
    expect(new Map(files as [string, string][])).toEqual(
      new Map([
        ["lib/empty", ""],
        ["lib/exact", "x".repeat(512)],
        ["lib/more", "é".repeat(700)],
        [deep, "deep"],
      ]),
    );
    const runnable = [...readTar(archive("lib"))].filter((file) => (file.mode & 0o100) !== 0).map((file) => file.name);
    if (process.platform !== "win32") expect(runnable).toEqual(["lib/exact"]);
  });

  test("refuses a cut archive, a damaged one, and one without an end", () => {
    const whole = archive("lib/more");
    expect(() => [...readTar(whole.subarray(0, 1024))]).toThrow();
    expect(() => [...readTar(whole.subarray(0, 512 + 1536))]).toThrow();
    const damaged = Uint8Array.from(whole);
    damaged[3] = 120;
    expect(() => [...readTar(damaged)]).toThrow();
    expect(() => [...readTar(new Uint8Array(0))]).toThrow();
  });

  test("refuses links and names that leave the folder", () => {
    symlinkSync("lib/exact", join(folder, "link"));
    expect(() => [...readTar(archive("link"))]).toThrow();
    mkdirSync(join(folder, "inside"));
    execFileSync("tar", ["--format=ustar", "-P", "-cf", "../made.tar", "../lib/empty"], {
      cwd: join(folder, "inside"),
    });
    expect(() => [...readTar(readFileSync(join(folder, "made.tar")))]).toThrow();
  });
});
