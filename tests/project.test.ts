import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { IntlMessageFormat } from "intl-messageformat";
import { describe, expect, it } from "vitest";
import { checks } from "../src/checks/index.js";
import { scenarioFiles } from "../src/consequence/index.js";
import { indexIds, noScoreReasons } from "../src/derive/children.js";
import { estimates } from "../src/estimates/index.js";
import { problemKinds } from "../src/read/problem.js";
import { readingSchema } from "../src/results/schema.js";
import { sources } from "../src/results/sources.js";

const root = join(import.meta.dirname, "..");
const read = (path: string): string => readFileSync(join(root, path), "utf8");

/** Files below a folder of the project, with forward slashes. */
function filesBelow(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) =>
      join(entry.parentPath, entry.name)
        .slice(root.length + 1)
        .replaceAll("\\", "/"),
    )
    .sort();
}

/** All English messages, and how often each id is written down. */
function english(): { readonly messages: ReadonlyMap<string, string>; readonly twice: readonly string[] } {
  const parts = filesBelow("templates/locales").filter((path) => /(^|\/)(en|parts\/[^/]+)\.json$/.test(path));
  const messages = new Map<string, string>();
  const twice: string[] = [];
  for (const path of parts) {
    for (const [id, text] of Object.entries(JSON.parse(read(path)) as Record<string, string>)) {
      if (messages.has(id)) twice.push(id);
      messages.set(id, text);
    }
  }
  return { messages, twice };
}

const { messages, twice } = english();
const startsWith = (prefix: string): string[] => [...messages.keys()].filter((id) => id.startsWith(prefix));

describe("every check", () => {
  it("has an id of its own", () => expect(new Set(checks.map((check) => check.id)).size).toBe(checks.length));

  it.each(checks.map((check) => [check.id, check] as const))("%s: file, test, words and sources", (id, check) => {
    expect(existsSync(join(root, `src/checks/${id}/index.ts`)), "its folder bears its id").toBe(true);
    expect(existsSync(join(root, `tests/checks/${id}.test.ts`)), "it has a test").toBe(true);
    expect(messages.has(`checks.${id}.title`), "title").toBe(true);
    expect(startsWith(`checks.${id}.finding.`).length, "findings").toBeGreaterThan(0);
    // Checks made alike share their words on how they are computed.
    const family = id.endsWith("-digits") ? "digits" : id;
    expect(startsWith(`checks.${family}.method`).length, "method").toBeGreaterThan(0);
    expect(check.sources.length, "sources").toBeGreaterThan(0);
    for (const source of check.sources) expect(sources.has(source), source).toBe(true);
    for (const need of check.needs) expect(messages.has(`needs.${need}`), need).toBe(true);
  });
});

describe("every estimate and scenario", () => {
  it.each(estimates.map((estimate) => [estimate.id, estimate] as const))("%s has words and sources", (id, estimate) => {
    expect(messages.has(`estimate.${id}`)).toBe(true);
    expect(estimate.sources.length).toBeGreaterThan(0);
    for (const source of estimate.sources) expect(sources.has(source), source).toBe(true);
    if (estimate.kind !== "proportion" || estimate.scheme === undefined) return;
    expect(messages.has(`scheme.${estimate.scheme.id}`)).toBe(true);
    for (const { id: name } of estimate.scheme.classes) expect(messages.has(`class.${name}`), name).toBe(true);
  });

  it.each(scenarioFiles.map((file) => [file.id, file] as const))("scenarios of %s: file and words", (id, file) => {
    expect(existsSync(join(root, `src/consequence/${id}.ts`))).toBe(true);
    expect(messages.has(`scenario-group.${file.group}`), file.group).toBe(true);
    const written = read(`src/consequence/${id}.ts`).match(/(?<=message\([`"])scenario\.[a-z0-9.-]+/g) ?? [];
    expect(written.length).toBeGreaterThan(0);
    for (const prefix of written) expect(startsWith(prefix).length, prefix).toBeGreaterThan(0);
  });
});

describe("closed lists of the code have words", () => {
  it.each([
    ["reading", readingSchema.options],
    ["index", indexIds],
    ["no-score", noScoreReasons.filter((reason) => reason !== "computed")],
    ["input.problem", problemKinds],
    ["input.remedy", problemKinds],
  ] as const)("%s", (family, ids) => {
    for (const id of ids) expect(messages.has(`${family}.${id}`), `${family}.${id}`).toBe(true);
  });
});

describe("the English messages", () => {
  it("can all be parsed, say something, and stand in one place each", () => {
    expect(messages.size).toBeGreaterThan(300);
    expect(twice).toEqual([]);
    for (const [id, text] of messages) {
      expect(text.trim(), id).not.toBe("");
      expect(() => new IntlMessageFormat(text, "en", undefined, { ignoreTag: true }), id).not.toThrow();
    }
  });

  it("accuse nobody and promise no score", () => {
    for (const [id, text] of messages) {
      expect(text, id).not.toMatch(/fabricat|falsif|fraud|cheat|guilty|made[ -]up/i);
    }
  });
});

/** Ids written out in full in the code: message("..."), { id: "..." }, and the arguments of the templates' helper. */
function idsInCode(): Map<string, string> {
  const found = new Map<string, string>();
  const known = new Set([...messages.keys()].map((id) => id.split(".")[0]));
  for (const path of [...filesBelow("src").filter((name) => name.endsWith(".ts")), ...filesBelow("templates/report")]) {
    const text = read(path);
    const written = path.endsWith(".hbs")
      ? [...text.matchAll(/\{\{t "([^"]+)"/g)]
      : [...text.matchAll(/\b(?:message\(|id: )"([a-z0-9-]+(?:\.[a-z0-9-]+)+)"/g)];
    for (const [, id = ""] of written) if (known.has(id.split(".")[0] ?? "")) found.set(id, path);
  }
  return found;
}

describe("message ids in the code", () => {
  it("every id that is written out has an English message", () => {
    const ids = idsInCode();
    expect(ids.size).toBeGreaterThan(50);
    const absent = [...ids].filter(([id]) => !messages.has(id)).map(([id, path]) => `${id} (${path})`);
    expect(absent).toEqual([]);
  });
});

describe("messages nobody asks for", () => {
  it("every family of messages is asked for somewhere in the code or the templates", () => {
    const written = new Set<string>();
    const starts = new Set<string>();
    for (const path of [
      ...filesBelow("src").filter((name) => name.endsWith(".ts")),
      ...filesBelow("templates/report"),
    ]) {
      const text = read(path);
      for (const [, id = ""] of text.matchAll(/["`]([a-z][A-Za-z0-9.-]*)["`]/g)) written.add(id);
      // The fixed start of an id that is put together: `reading.${reading}`.
      for (const [, start = ""] of text.matchAll(/`([a-z][a-z0-9-]*[.-][a-z0-9.-]*)\$\{/g)) starts.add(start);
    }
    const asked = (id: string): boolean => written.has(id) || [...starts].some((start) => id.startsWith(start));
    expect([...messages.keys()].filter((id) => !asked(id))).toEqual([]);
  });
});

describe("sources", () => {
  it("have an id of their own and a reference that is not a stub", () => {
    for (const [id, source] of sources) {
      expect(source.id).toBe(id);
      expect(source.reference.length, id).toBeGreaterThan(20);
    }
  });
});

describe("documents", () => {
  const documents = ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "sample-input/README.md"];

  it.each(documents)("%s is there, and its links lead somewhere", (path) => {
    const text = read(path);
    expect(text.length).toBeGreaterThan(100);
    for (const [, target = ""] of text.matchAll(/\]\(([^)\s]+)[^)]*\)/g)) {
      if (/^(https?:|mailto:)/.test(target)) continue;
      const [file = "", anchor = ""] = target.split("#");
      const at = file === "" ? path : join(dirname(path), decodeURIComponent(file));
      expect(existsSync(join(root, at)), `${path} links to ${target}`).toBe(true);
      if (anchor === "" || !at.endsWith(".md")) continue;
      const headings = [...read(at).matchAll(/^#+ (.*)$/gm)].map(([, heading = ""]) =>
        heading
          .toLowerCase()
          .replace(/[^\p{L}\p{N} -]/gu, "")
          .replaceAll(" ", "-"),
      );
      expect(headings, `${path} links to ${target}`).toContain(anchor);
    }
  });

  it.each(documents.slice(0, 2))("the files and folders that %s names are there", (path) => {
    const named = [...read(path).matchAll(/`((?:src|tests|templates|sample-input)(?:\/[\w.-]+)+)`/g)];
    for (const [, name = ""] of named) expect(existsSync(join(root, name)), `${path} names ${name}`).toBe(true);
  });

  it("the commands that documents name are scripts of package.json", () => {
    const scripts = Object.keys(JSON.parse(read("package.json")).scripts);
    for (const path of documents) {
      for (const [, name = ""] of read(path).matchAll(/`?npm run ([\w:-]+)/g)) expect(scripts, path).toContain(name);
    }
  });

  it("the licence is there", () => expect(read("LICENSE")).toContain("MIT License"));
});

describe("the project stands alone", () => {
  const texts = [
    ...filesBelow("src"),
    ...filesBelow("templates"),
    ...filesBelow("tests"),
    ...filesBelow("sample-input"),
  ]
    .filter((path) => /\.(ts|mjs|js|json|hbs|css|md|yaml|py)$/.test(path))
    .filter((path) => !path.startsWith("tests/known-values/") && path !== "tests/project.test.ts");
  const all = [...texts, "README.md", "DEVELOPERS.md", "CHANGELOG.md", "package.json", ".npmrc", ".ci/run"].filter(
    (path) => existsSync(join(root, path)),
  );

  it.each([
    ["a path of somebody's machine", /(?<![\w.])\/(?:work|root)\/|(?<![\w.$`}])\/tmp\//],
    ["a package registry's host", /registry\.npmjs|npmjs\.(?:org|com)|registry\.yarnpkg|pypi\.org|proxy\.golang/],
    ["a marker of unfinished work", /\b(?:TODO|FIXME|XXX|HACK)\b|lorem ipsum/],
    ["a word on how it was made", /\bdesign\.md\b|(?<!from ")\.\.\/shared\b|\bbrief\.md\b/],
  ])("no file holds %s", (_, pattern) => {
    const found = all.filter((path) => pattern.test(read(path)));
    expect(found).toEqual([]);
  });
});
