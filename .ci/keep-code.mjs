// Has the gathered program make its sample reports, and keeps the code that the engine made of it on the way: the last step of
// the build, in a process of its own. Only then are the threads given what they start with: so far charts are drawn in place,
// and their code is kept too.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { keepCompiled, loadProgram } from "../dist/cli/compiled-code.js";

const sample = (name) => fileURLToPath(new URL(`../sample-input/${name}`, import.meta.url));
const { run } = loadProgram("main");
const threads = ["drawing-thread"];
for (const name of threads) loadProgram(name);
const folder = mkdtempSync(join(tmpdir(), "tareline-build-"));
const effects = {
  out() {},
  say(text) {
    console.error(text);
  },
  watched: false,
  environment: {},
  exitWith(code) {
    process.exitCode = code;
  },
};
const common = ["--quiet", "--no-pdf", "--out", folder];
await run(["report", sample("quillmar.yaml"), "--language", "en,ar", ...common], effects);
await run(["compare", sample("two-rounds"), ...common], effects);
rmSync(folder, { recursive: true, force: true });
keepCompiled();
for (const name of threads) {
  const path = fileURLToPath(new URL(`../dist/bundle/${name}.js`, import.meta.url));
  writeFileSync(path, `import { loadProgram } from "../cli/compiled-code.js";\nloadProgram("${name}");\n`);
}
