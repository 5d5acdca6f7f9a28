import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import type { Effects } from "../../src/cli/effects.js";
import { run } from "../../src/cli/main.js";

/** What a call did, as a terminal would see it. */
export interface Called {
  /** 0 where none was set. */
  readonly code: number;
  readonly out: string;
  /** Everything said, one entry a call. */
  readonly said: readonly string[];
  readonly err: string;
}

export interface Around {
  readonly watched?: boolean;
  readonly environment?: Readonly<Record<string, string>>;
  /** Today, in days since 1970; without it no date is refused for being still to come. */
  readonly today?: number;
  /** Stands in for standard output. */
  readonly out?: (text: string) => void;
}

/** Runs the command line in this process, with real files and nothing else of the machine. */
export async function call(args: readonly string[], around: Around = {}): Promise<Called> {
  const said: string[] = [];
  let out = "";
  let code = 0;
  const effects: Effects = {
    out: (text) => {
      around.out?.(text);
      out += text;
    },
    say: (text) => void said.push(text),
    watched: around.watched ?? false,
    environment: around.environment ?? {},
    ...(around.today === undefined ? {} : { today: around.today }),
    exitWith: (given) => {
      code = given;
    },
  };
  await run(args, effects);
  return { code, out, said, err: said.join("\n") };
}

/** An empty folder that goes with the test. */
export function emptyFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "tareline-test-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Every file below a folder, hidden and unfinished ones too, with forward slashes. */
export function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => !entry.isDirectory())
    .map((entry) =>
      join(entry.parentPath, entry.name)
        .slice(folder.length + 1)
        .replaceAll("\\", "/"),
    )
    .sort();
}
