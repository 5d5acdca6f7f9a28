import { execFileSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { fontsConf } from "../../../src/render/pdf/fonts-conf.js";
import { packagedBrowser } from "../../../src/render/pdf/packaged-browser.js";
import { cacheFolders, privateFolder } from "../../../src/render/pdf/private-folder.js";

const folder = mkdtempSync(join(tmpdir(), "packaged-browser-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const packagedHere = process.platform === "linux" && process.arch === "x64";

async function unpackedIn(cache: string) {
  const packaged = await packagedBrowser({ environment: {}, cacheFolders: [cache] });
  if (packaged.kind !== "ready") throw new Error(JSON.stringify(packaged.reason));
  return packaged;
}

describe.skipIf(!packagedHere)("packagedBrowser", () => {
  const cache = join(folder, "cache");

  test("three at once unpack one whole browser, private to this user, and leave nothing else", async () => {
    const all = await Promise.all([unpackedIn(cache), unpackedIn(cache), unpackedIn(cache)]);
    expect(new Set(all.map(({ executable }) => executable)).size).toBe(1);
    expect(readdirSync(cache)).toEqual([expect.stringMatching(/^chromium-\d+\.\d+\.\d+$/)]);
    expect(statSync(cache).mode & 0o777).toBe(0o700);
    const { executable, environment } = await unpackedIn(cache);
    const version = execFileSync(executable, ["--version"], { env: environment, encoding: "utf8" });
    expect(version).toMatch(/^Chromium \d+/);
    expect(readdirSync(environment.LD_LIBRARY_PATH ?? "")).toContain("libnss3.so");
    expect(readFileSync(environment.FONTCONFIG_FILE ?? "", "utf8")).toContain(
      `<dir>${dirname(executable)}/fonts</dir>`,
    );
  });

  test("a second run uses what the first unpacked", async () => {
    const { executable } = await unpackedIn(cache);
    const before = statSync(executable).mtimeMs;
    await unpackedIn(cache);
    expect(statSync(executable).mtimeMs).toBe(before);
  });

  test("a damaged browser is unpacked anew", async () => {
    const { executable } = await unpackedIn(cache);
    const size = statSync(executable).size;
    truncateSync(executable, 1000);
    await unpackedIn(cache);
    expect(statSync(executable).size).toBe(size);
    expect(readdirSync(cache)).toHaveLength(1);
  });

  test("the libraries already on the path stay there, after its own", async () => {
    const packaged = await packagedBrowser({ environment: { LD_LIBRARY_PATH: "/somewhere" }, cacheFolders: [cache] });
    const { LD_LIBRARY_PATH: path = "" } = packaged.kind === "ready" ? packaged.environment : {};
    expect(path).toMatch(/\/lib:\/somewhere$/);
  });

  test("a folder that cannot be used is passed over for the next", async () => {
    writeFileSync(join(folder, "a-file"), "");
    const packaged = await packagedBrowser({ environment: {}, cacheFolders: [join(folder, "a-file"), cache] });
    expect(packaged.kind).toBe("ready");
    const nowhere = await packagedBrowser({ environment: {}, cacheFolders: [join(folder, "a-file")] });
    expect(nowhere).toMatchObject({ kind: "unavailable", reason: { id: "pdf.package.unpack" } });
  });

  test("an incomplete or damaged package is told, and leaves nothing behind", async () => {
    const packageFolder = join(folder, "package");
    mkdirSync(join(packageFolder, "bin"), { recursive: true });
    writeFileSync(join(packageFolder, "package.json"), '{ "version": "1.2.3" }');
    const incomplete = await packagedBrowser({ environment: {}, cacheFolders: [cache], packageFolder });
    expect(incomplete).toMatchObject({
      kind: "unavailable",
      reason: { id: "pdf.package.incomplete", values: { file: "chromium.br" } },
    });
    for (const name of ["chromium.br", "al2023.tar.br", "fonts.tar.br"]) {
      writeFileSync(join(packageFolder, "bin", name), "not brotli");
    }
    const damaged = await packagedBrowser({ environment: {}, cacheFolders: [join(folder, "other")], packageFolder });
    expect(damaged).toMatchObject({ kind: "unavailable", reason: { id: "pdf.package.unpack" } });
    expect(readdirSync(join(folder, "other"))).toEqual([]);
  });

  test("a package that is not there is told", async () => {
    const packaged = await packagedBrowser({ environment: {}, packageFolder: null });
    expect(packaged).toMatchObject({ kind: "unavailable", reason: { id: "pdf.package.missing" } });
  });
});

describe.skipIf(process.platform === "win32")("the cache", () => {
  test("stands in the XDG folder, then in the home, then among temporary files, one a user", () => {
    const last = expect.stringMatching(/tareline-cache-\d+$/);
    expect(cacheFolders({ XDG_CACHE_HOME: "/x", HOME: "/home/a" })).toEqual([
      "/x/tareline",
      "/home/a/.cache/tareline",
      last,
    ]);
    expect(cacheFolders({ XDG_CACHE_HOME: "relative" })).toEqual([last]);
  });

  test("is refused where it is a link, open to others or somebody else's", () => {
    const target = join(folder, "target");
    mkdirSync(target, { mode: 0o700 });
    symlinkSync(target, join(folder, "link"));
    expect(() => privateFolder(join(folder, "link"))).toThrow();
    const open = join(folder, "open");
    mkdirSync(open);
    chmodSync(open, 0o777);
    expect(() => privateFolder(open)).toThrow();
    expect(privateFolder(target)).toBe(target);
    // The root folder belongs to root; to root, a folder in use by another is hard to come by in a test.
    if (process.getuid?.() !== 0) expect(() => privateFolder("/")).toThrow();
  });

  test("its fonts file is well-formed for a folder with signs of XML in its name", () => {
    const conf = fontsConf("/a & b/<c>", "/home/a");
    expect(conf).toContain("<dir>/a &amp; b/&lt;c&gt;/fonts</dir>");
    expect(existsSync("/a & b")).toBe(false);
  });
});
