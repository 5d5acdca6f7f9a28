import { join } from "node:path";
import type { Browser } from "./find-browser.js";

/** How to start a browser: the part of it that does not depend on who drives it. */
export interface Launch {
  readonly executablePath: string;
  readonly headless: true | "shell";
  readonly args: string[];
  /** The launched process's whole environment. */
  readonly env: Record<string, string | undefined>;
  readonly userDataDir: string;
}

/**
 * Start a browser with a fresh profile in `workFolder`, cut off from every network and in one time zone and language
 * whatever the machine's. Root cannot have the browser's sandbox, so it alone goes without, unless `withoutSandbox`.
 */
export function launchOf(browser: Browser, workFolder: string, withoutSandbox: boolean): Launch {
  const root = process.getuid?.() === 0;
  return {
    executablePath: browser.executable,
    headless: browser.windowless ? "shell" : true,
    args: [
      // The page's requests are refused one by one; this also covers what the browser itself would look up.
      "--host-resolver-rules=MAP * ~NOTFOUND",
      "--no-proxy-server",
      "--disable-gpu",
      "--font-render-hinting=none",
      ...(root || withoutSandbox ? ["--no-sandbox"] : []),
    ],
    env: {
      ...process.env,
      TZ: "UTC",
      LANGUAGE: "en",
      ...(browser.source === "package" ? ownFolders(workFolder) : {}),
      ...browser.environment,
    },
    userDataDir: join(workFolder, "profile"),
  };
}

/** The packaged browser leaves nothing in the user's home; an installed one may need that home to start at all. */
function ownFolders(workFolder: string): Record<string, string> {
  return {
    HOME: workFolder,
    XDG_CONFIG_HOME: workFolder,
    XDG_CACHE_HOME: workFolder,
    TMPDIR: workFolder,
  };
}
