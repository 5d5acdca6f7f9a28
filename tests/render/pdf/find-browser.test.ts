import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { findBrowser } from "../../../src/render/pdf/find-browser.js";
import { installedBrowserPaths } from "../../../src/render/pdf/installed-browsers.js";
import { makePdfs } from "../../../src/render/pdf/make-pdf.js";

const folder = mkdtempSync(join(tmpdir(), "find-browser-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function program(name: string): string {
  const path = join(folder, name);
  writeFileSync(path, "#!/bin/sh\nexit 0\n");
  chmodSync(path, 0o755);
  return path;
}

/** A machine with nothing on it. */
const bare = { environment: { PATH: "", HOME: folder }, packageFolder: null };

// Where a browser is installed in one of the usual places, the machine cannot show that none is found.
const installed = (await findBrowser(bare)).kind === "found";

describe("findBrowser", () => {
  test("takes the given path before the variable, and the variable before anything else", async () => {
    const given = program("given");
    const fromVariable = program("chrome-headless-shell");
    const environment = { PATH: "", PUPPETEER_EXECUTABLE_PATH: fromVariable };
    expect(await findBrowser({ path: given, environment })).toEqual({
      kind: "found",
      browser: { source: "option", executable: given, windowless: false, environment: {} },
    });
    expect(await findBrowser({ environment })).toEqual({
      kind: "found",
      browser: { source: "environment", executable: fromVariable, windowless: true, environment: {} },
    });
  });

  test("takes no other browser for one that was named and is not there", async () => {
    const path = join(folder, "nowhere");
    expect(await findBrowser({ path })).toMatchObject({ kind: "unusable", reason: { id: "pdf.named.option" } });
    const environment = { PUPPETEER_EXECUTABLE_PATH: path };
    expect(await findBrowser({ environment })).toMatchObject({
      kind: "unusable",
      reason: { id: "pdf.named.environment", values: { path, why: { id: "pdf.named.missing" } } },
    });
    expect(await findBrowser({ path: folder })).toMatchObject({
      kind: "unusable",
      reason: { values: { why: { id: "pdf.named.not-a-file" } } },
    });
  });

  test.skipIf(process.platform === "win32")(
    "says of a named file that is no program that it may not be run",
    async () => {
      const path = join(folder, "text");
      writeFileSync(path, "not a program", { mode: 0o644 });
      expect(await findBrowser({ path })).toMatchObject({
        kind: "unusable",
        reason: { values: { why: { id: "pdf.named.not-runnable" } } },
      });
    },
  );

  test.skipIf(process.platform === "win32")("finds an installed browser on the PATH", async () => {
    mkdirSync(join(folder, "bin"), { recursive: true });
    const executable = program("bin/chromium");
    const search = await findBrowser({ ...bare, environment: { PATH: join(folder, "bin"), HOME: folder } });
    expect(search).toMatchObject({ kind: "found", browser: { source: "machine", executable } });
  });

  test.skipIf(installed)("says what was tried when there is none", async () => {
    const search = await findBrowser(bare);
    expect(search).toMatchObject({ kind: "none" });
    const tried = search.kind === "none" ? search.tried.map((reason) => reason.id) : [];
    expect(tried.at(0)).toMatch(/^pdf\.package\.(missing|platform)$/);
    expect(tried.at(-1)).toBe("pdf.machine.none");
    const outcome = await makePdfs({ pages: ["<p>x</p>"], madeOn: "2031-05-09" }, bare);
    expect(outcome).toMatchObject({ kind: "not-printed", reason: { id: "pdf.problem.none" } });
  });
});

describe("installedBrowserPaths", () => {
  test("knows the usual places of each system", () => {
    const windows = installedBrowserPaths({
      platform: "win32",
      home: "",
      environment: { PROGRAMFILES: "C:\\Program Files", LOCALAPPDATA: "C:\\Users\\a\\AppData\\Local", Path: "D:\\x" },
    });
    expect(windows[0]).toBe("C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe");
    expect(windows).toContain("C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe");
    expect(windows).toContain("D:\\x\\msedge.exe");
    const mac = installedBrowserPaths({ platform: "darwin", home: "/Users/a", environment: {} });
    expect(mac).toContain("/Applications/Google Chrome.app/Contents/MacOS/Google Chrome");
    expect(mac).toContain("/Users/a/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge");
    const linux = installedBrowserPaths({ platform: "linux", home: "", environment: { PATH: "/a:/b" } });
    expect(linux.indexOf("/a/chromium")).toBeLessThan(linux.indexOf("/usr/bin/chromium"));
    expect(linux).toContain("/snap/bin/chromium");
  });
});
