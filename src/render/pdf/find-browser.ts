import { accessSync, constants, statSync } from "node:fs";
import { basename } from "node:path";
import { message } from "../../results/message.js";
import type { MessageId } from "../../results/message-ids.js";
import type { Message } from "../../results/schema.js";
import { installedBrowserPaths } from "./installed-browsers.js";
import { packagedBrowser } from "./packaged-browser.js";

/** Where a browser came from: named by the user, named by the environment, the npm package, or the machine. */
export type BrowserSource = "option" | "environment" | "package" | "machine";

/** A browser that can be started. */
export interface Browser {
  readonly source: BrowserSource;
  readonly executable: string;
  /** True for a browser that is built to run without a window only. */
  readonly windowless: boolean;
  /** Variables for the launched process only. */
  readonly environment: Readonly<Record<string, string>>;
}

export type BrowserSearch =
  | { readonly kind: "found"; readonly browser: Browser }
  /** The browser that the user or the environment named cannot be used; another is not taken in its stead. */
  | { readonly kind: "unusable"; readonly reason: Message }
  /** Nothing found; what was tried, in order. */
  | { readonly kind: "none"; readonly tried: readonly Message[] };

export interface BrowserRequest {
  /** The path given with `--browser`. */
  readonly path?: string | undefined;
  /** Defaults to the process's own. */
  readonly environment?: NodeJS.ProcessEnv;
  /** Sources to pass over, for a second search when a browser was found but would not start. */
  readonly without?: readonly BrowserSource[];
  /** Folders for the packaged browser, best first. Defaults to this user's cache. */
  readonly cacheFolders?: readonly string[];
  /** The packaged browser's own folder; null stands for a package that is not there. */
  readonly packageFolder?: string | null;
}

/**
 * Finds a browser to print with, in this order: the path given, PUPPETEER_EXECUTABLE_PATH, the browser of the npm
 * package (unpacked on first use), Chrome, Chromium or Edge installed on the machine.
 */
export async function findBrowser(request: BrowserRequest = {}): Promise<BrowserSearch> {
  const environment = request.environment ?? process.env;
  const allowed = (source: BrowserSource) => !(request.without ?? []).includes(source);
  if (request.path !== undefined && allowed("option")) return named(request.path, "option");
  const fromEnvironment = environment.PUPPETEER_EXECUTABLE_PATH ?? "";
  if (fromEnvironment !== "" && allowed("environment")) return named(fromEnvironment, "environment");
  const tried: Message[] = [];
  if (allowed("package")) {
    const packaged = await packagedBrowser({ ...request, environment });
    if (packaged.kind === "ready") {
      return {
        kind: "found",
        browser: { ...packaged, source: "package", windowless: true },
      };
    }
    tried.push(packaged.reason);
  }
  if (allowed("machine")) {
    const machine = {
      platform: process.platform,
      environment,
      home: environment.HOME ?? "/",
    };
    const executable = installedBrowserPaths(machine).find((path) => whyNotRunnable(path) === null);
    if (executable !== undefined) return { kind: "found", browser: plain(executable, "machine") };
    tried.push(message("pdf.machine.none"));
  }
  return { kind: "none", tried };
}

function named(path: string, source: "option" | "environment"): BrowserSearch {
  const why = whyNotRunnable(path);
  if (why === null) return { kind: "found", browser: plain(path, source) };
  return {
    kind: "unusable",
    reason: message(`pdf.named.${source}`, { path, why: message(why) }),
  };
}

function plain(executable: string, source: BrowserSource): Browser {
  return {
    source,
    executable,
    windowless: /headless[-_]shell/.test(basename(executable)),
    environment: {},
  };
}

function whyNotRunnable(path: string): MessageId | null {
  try {
    if (!statSync(path).isFile()) return "pdf.named.not-a-file";
    accessSync(path, constants.X_OK);
    return null;
  } catch (error) {
    const missing = (error as NodeJS.ErrnoException).code === "ENOENT";
    return missing ? "pdf.named.missing" : "pdf.named.not-runnable";
  }
}
