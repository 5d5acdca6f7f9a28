import { posix, win32 } from "node:path";

/** What decides where a browser would be. */
export interface Machine {
  readonly platform: NodeJS.Platform;
  readonly environment: NodeJS.ProcessEnv;
  readonly home: string;
}

/** Paths at which Chrome, Chromium or Edge are usually installed, the likelier first. Nothing is looked up on the disk. */
export function installedBrowserPaths(machine: Machine): readonly string[] {
  if (machine.platform === "win32") return windowsPaths(machine);
  return machine.platform === "darwin" ? macPaths(machine) : linuxPaths(machine);
}

function windowsPaths({ environment }: Machine): string[] {
  const roots = [environment.PROGRAMFILES, environment["PROGRAMFILES(X86)"], environment.LOCALAPPDATA];
  const programs = [
    "Google\\Chrome\\Application\\chrome.exe",
    "Chromium\\Application\\chrome.exe",
    "Microsoft\\Edge\\Application\\msedge.exe",
  ];
  const usual = programs.flatMap((program) =>
    roots.filter((root) => root !== undefined && root !== "").map((root) => win32.join(root as string, program)),
  );
  return [...usual, ...onPath(environment, win32, ["chrome.exe", "chromium.exe", "msedge.exe"])];
}

function macPaths({ environment, home }: Machine): string[] {
  const names = ["Google Chrome", "Chromium", "Microsoft Edge"];
  const usual = names.flatMap((name) =>
    ["/Applications", posix.join(home, "Applications")].map((folder) =>
      posix.join(folder, `${name}.app`, "Contents", "MacOS", name),
    ),
  );
  return [...usual, ...onPath(environment, posix, ["google-chrome", "chromium"])];
}

function linuxPaths({ environment }: Machine): string[] {
  const names = [
    "google-chrome-stable",
    "google-chrome",
    "chromium",
    "chromium-browser",
    "microsoft-edge-stable",
    "microsoft-edge",
    "chrome-headless-shell",
  ];
  const usual = [
    "/opt/google/chrome/chrome",
    "/usr/bin/google-chrome-stable",
    "/usr/bin/chromium",
    "/usr/bin/chromium-browser",
    "/usr/lib/chromium/chromium",
    "/snap/bin/chromium",
    "/opt/microsoft/msedge/msedge",
  ];
  return [...new Set([...onPath(environment, posix, names), ...usual])];
}

function onPath(environment: NodeJS.ProcessEnv, path: typeof posix, names: readonly string[]): string[] {
  const folders = (environment.PATH ?? environment.Path ?? "").split(path.delimiter).filter((folder) => folder !== "");
  return names.flatMap((name) => folders.map((folder) => path.join(folder, name)));
}
