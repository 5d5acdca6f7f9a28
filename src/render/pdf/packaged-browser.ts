import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import { cacheFolders, privateFolder } from "./private-folder.js";
import { isUnpacked, unpackBrowser } from "./unpack-browser.js";

/** The browser of the npm package, unpacked and ready, or the reason why it cannot be had. */
export type PackagedBrowser =
  | {
      readonly kind: "ready";
      readonly executable: string;
      /** Variables for the launched process only: its libraries and its fonts. */
      readonly environment: Readonly<Record<string, string>>;
    }
  | { readonly kind: "unavailable"; readonly reason: Message };

export interface PackagedBrowserOptions {
  readonly environment: NodeJS.ProcessEnv;
  /** Folders to unpack into, best first. Defaults to this user's cache. */
  readonly cacheFolders?: readonly string[];
  /** The package's own folder. Defaults to where Node finds it; null stands for a package that is not there. */
  readonly packageFolder?: string | null;
}

const packageName = "@sparticuz/chromium";
/** What the package's libraries were linked against: nothing older has all their symbols. */
const oldestGlibc = [2, 34] as const;

/**
 * Unpacks the browser of the npm package once into a private folder of this user, named after its version, and says
 * how to start it. It runs on a machine that has neither its libraries nor any font.
 */
export async function packagedBrowser(options: PackagedBrowserOptions): Promise<PackagedBrowser> {
  const packageFolder = options.packageFolder === undefined ? findPackage() : options.packageFolder;
  const obstacle = cannotRunHere() ?? lacksFiles(packageFolder);
  if (packageFolder === null || obstacle !== null) {
    return {
      kind: "unavailable",
      reason: obstacle ?? message("pdf.package.missing"),
    };
  }
  const { version } = JSON.parse(readFileSync(join(packageFolder, "package.json"), "utf8")) as { version: string };
  const failures: Message[] = [];
  for (const cache of options.cacheFolders ?? cacheFolders(options.environment)) {
    try {
      const folder = join(privateFolder(cache), `chromium-${version}`);
      const environment = launchEnvironment(folder, options.environment);
      if (!isUnpacked(folder))
        await unpackBrowser({
          packageFolder,
          folder,
          home: options.environment.HOME ?? "/",
          environment,
        });
      return {
        kind: "ready",
        executable: join(folder, "chromium"),
        environment,
      };
    } catch (error) {
      failures.push(
        message("pdf.package.folder", {
          folder: cache,
          detail: detailOf(error),
        }),
      );
    }
  }
  return {
    kind: "unavailable",
    reason: message("pdf.package.unpack", { failures }),
  };
}

function findPackage(): string | null {
  try {
    let folder = dirname(createRequire(import.meta.url).resolve(packageName));
    while (!existsSync(join(folder, "package.json")) || !existsSync(join(folder, "bin"))) {
      if (dirname(folder) === folder) return null;
      folder = dirname(folder);
    }
    return folder;
  } catch {
    return null;
  }
}

function cannotRunHere(): Message | null {
  if (process.platform !== "linux" || process.arch !== "x64") return message("pdf.package.platform");
  // The report's network section would look up host names; only the header is wanted.
  const report = process.report as NodeJS.ProcessReport & {
    excludeNetwork?: boolean;
  };
  report.excludeNetwork = true;
  const { header } = report.getReport() as unknown as {
    header: { glibcVersionRuntime?: string };
  };
  const [major = 0, minor = 0] = (header.glibcVersionRuntime ?? "").split(".").map(Number);
  const enough = major > oldestGlibc[0] || (major === oldestGlibc[0] && minor >= oldestGlibc[1]);
  return enough ? null : message("pdf.package.glibc", { found: header.glibcVersionRuntime ?? "" });
}

function lacksFiles(packageFolder: string | null): Message | null {
  if (packageFolder === null) return message("pdf.package.missing");
  const file = ["chromium.br", "al2023.tar.br", "fonts.tar.br"].find(
    (name) => !existsSync(join(packageFolder, "bin", name)),
  );
  return file === undefined ? null : message("pdf.package.incomplete", { file });
}

function launchEnvironment(folder: string, environment: NodeJS.ProcessEnv): Record<string, string> {
  const libraries = [join(folder, "lib"), environment.LD_LIBRARY_PATH ?? ""].filter((path) => path !== "");
  return {
    LD_LIBRARY_PATH: libraries.join(":"),
    FONTCONFIG_FILE: join(folder, "fonts.conf"),
  };
}

function detailOf(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).trim().slice(0, 300);
}
