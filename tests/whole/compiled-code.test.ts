import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { engineFlags } from "../../src/cli/compiled-code.js";
import { filesIn, newFolder, program, programAt, sampleFolder } from "./program.js";

const root = join(import.meta.dirname, "../..");
const args = ["report", join(sampleFolder, "quillmar.yaml"), "--quiet", "--no-pdf"];

/** A copy of the built program whose kept code may be spoilt. */
const copy = mkdtempSync(join(tmpdir(), "tareline-built-"));
const bundle = join(copy, "dist/bundle");
const kept = (): string[] => readdirSync(bundle).filter((name) => name.endsWith(".compiled"));

let expected: ReadonlyMap<string, Buffer>;

beforeAll(async () => {
  cpSync(join(root, "dist"), join(copy, "dist"), { recursive: true });
  for (const name of ["templates", "node_modules", "package.json"]) symlinkSync(join(root, name), join(copy, name));
  const folder = newFolder();
  expect((await program(args, folder)).err).toBe("");
  expected = filesIn(folder);
}, 60_000);

afterAll(() => rmSync(copy, { recursive: true, force: true }));

async function expectSameReport(): Promise<void> {
  const folder = newFolder();
  const { code, err } = await programAt(join(copy, "dist/cli/start.js"), args, folder);
  expect(err).toBe("");
  expect(code).toBe(0);
  const files = filesIn(folder);
  expect([...files.keys()]).toEqual([...expected.keys()]);
  for (const [name, bytes] of expected) expect(bytes.equals(files.get(name) ?? Buffer.alloc(0)), name).toBe(true);
}

describe("the engine", () => {
  it("is told only what it knows: a flag it does not know it would complain of", async () => {
    // Versions of V8 in Node 20, 22 and 24.
    expect(["11.3.244.8-node.30", "12.4.254.21-node.57", "13.6.233.17-node.63"].map(engineFlags)).toEqual([
      ["--interrupt-budget=600000"],
      [],
      [],
    ]);
    const { err } = await program(["--version"], newFolder());
    expect(err).toBe("");
  });

  it("warns of nothing, also where libraries are asked for late", async () => {
    const made = await program(
      ["report", join(sampleFolder, "quillmar.yaml"), "--formats", "html,docx", "--quiet"],
      newFolder(),
    );
    expect(made).toEqual({ code: 0, out: "", err: "" });
  }, 60_000);
});

describe("the compiled code that the build keeps", () => {
  it("is there for the parts that a report needs", () => {
    expect(existsSync(join(bundle, "main.cjs"))).toBe(true);
    expect(kept().length).toBeGreaterThan(10);
  });

  it("is done without where the engine refuses it: cut short, of another kind, empty", async () => {
    for (const [at, name] of kept().entries()) {
      const path = join(bundle, name);
      if (at % 3 === 0) truncateSync(path, 100);
      else if (at % 3 === 1) writeFileSync(path, "This is no code.");
      else truncateSync(path, 0);
    }
    await expectSameReport();
  });

  it("is done without where it is not there", async () => {
    for (const name of kept()) rmSync(join(bundle, name));
    await expectSameReport();
  });
});
