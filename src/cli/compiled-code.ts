import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { setFlagsFromString } from "node:v8";
import { Script } from "node:vm";

/** Where the build puts the gathered program. */
const folder = fileURLToPath(new URL("../bundle/", import.meta.url));

interface Part {
  readonly exports: Record<string, unknown>;
  readonly script: Script;
}
const parts = new Map<string, Part>();

/** The code that the engine made of a file, kept beside it by the build. */
const keptBeside = (path: string): string => `${path}.compiled`;

/**
 * A part of the gathered program, and through it the parts it asks for. Where the build kept the code that the engine made of a
 * part, it is taken over, which takes a third off the time to a small survey's report. The engine refuses code of another
 * version of its own; then the part is compiled as usual.
 */
function loadPart(path: string): Record<string, unknown> {
  const known = parts.get(path);
  if (known !== undefined) return known.exports;
  const kept = keptBeside(path);
  const script = new Script(
    `(function (exports, require, module, __filename, __dirname) {${readFileSync(path, "utf8")}\n})`,
    {
      filename: path,
      ...(existsSync(kept) ? { cachedData: readFileSync(kept) } : {}),
    },
  );
  const exports: Record<string, unknown> = {};
  parts.set(path, { exports, script });
  const requireApart = createRequire(path);
  const require = (name: string): unknown =>
    name.startsWith("./") ? loadPart(join(dirname(path), name)) : requireApart(name);
  script.runInThisContext()(exports, require, { exports }, path, dirname(path));
  return exports;
}

/** A file of the gathered program by its name. */
export function loadProgram(name: string): Record<string, unknown> {
  for (const flag of engineFlags(process.versions.v8)) setFlagsFromString(flag);
  return loadPart(join(folder, `${name}.cjs`));
}

/**
 * What is asked of an engine of this version. A run is too short to gain by optimizing what has run a few hundred times only: Node
 * 20's engine is told to wait longer, which takes a quarter off the processors' time. Later ones wait by themselves, and do not
 * know the flag.
 */
export function engineFlags(version: string): readonly string[] {
  return version.startsWith("11.3.") ? ["--interrupt-budget=600000"] : [];
}

/** Keeps the code of all parts that have run, for the next start. For the build. */
export function keepCompiled(): void {
  for (const [path, { script }] of parts) writeFileSync(keptBeside(path), script.createCachedData());
}
