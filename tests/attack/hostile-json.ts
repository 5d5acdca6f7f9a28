import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";
import type { SurveyFacts } from "../../src/compare/read-summary.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { filesIn, reachesOut } from "../whole/program.js";
import { xmlIn } from "./xml-in.js";

/** What a comparison knows of a file beforehand. */
export const facts: SurveyFacts = {
  file: "a.json",
  sha256: "0".repeat(64),
  place: null,
  round: null,
  group: null,
  population: null,
  clustersRevisited: false,
};

/** What may stand in no page and no document. */
export const unreadable = /(?![\t\n\r])[\p{Cc}\p{Cs}\u202A-\u202E\uFFFE\uFFFF]/u;

/** What may be said to no terminal: signs that steer it, or the direction of its text. Isolates are taken away as it is written. */
export const steersTerminal = /(?![\t\n])[\p{Cc}\u202A-\u202E]/u;

/** Files drawn again after a change anywhere: hundreds by hand, fewer among the other tests. */
export const draws = Number(process.env.TARELINE_ATTACK_DRAWS ?? 8);

/** A message with others within it, as text: no recursion could write one so deep. */
const nested = (depth: number): string => `${'{"id":"x","values":{"a":'.repeat(depth)}"x"${"}}".repeat(depth)}`;

/** Stands for a message with 50,000 others within it until the text is written. */
const deepMark = "a message 50,000 deep";

/** JSON of a value, whatever was put into it. */
export function textOf(raw: unknown): string {
  return typeof raw === "string" ? raw : JSON.stringify(raw).replace(`"${deepMark}"`, () => nested(50_000));
}

/** What is put in the place of one value. */
export const evil: readonly unknown[] = [
  ...[null, true, 0, -1, 1e308, -1e308, 5e-324, 2 ** 53, "", [], {}, [[]]],
  ...[
    "<script>alert(1)</script>",
    '"><img src=//x onerror=alert(1)>',
    "</style>",
    "url(http://x)",
    "../../evil",
    "=cmd()",
  ],
  ...[
    "__proto__",
    "constructor",
    "a\u0000b",
    "\u202Eevil",
    "\u001b[31mevil",
    "\ud800",
    "2025-13-45",
    "9999999-01-01",
    "x".repeat(50_000),
  ],
  { "\u001b[2J\u202E": "\u001b[31m" },
  JSON.parse(nested(3)),
  deepMark,
  { id: "constructor", values: JSON.parse('{"__proto__": "x"}') },
];

/** Puts something in the place of one value of a JSON text, found by counting through all of them. */
export function changed(text: string, place: number, put: unknown): unknown {
  const raw = JSON.parse(text) as Record<string, unknown>;
  const places: [holder: Record<string, unknown>, key: string][] = [];
  const collect = (holder: Record<string, unknown>): void => {
    for (const [key, value] of Object.entries(holder)) {
      places.push([holder, key]);
      if (typeof value === "object" && value !== null) collect(value as Record<string, unknown>);
    }
  };
  collect(raw);
  const [holder = {}, key = ""] = places[place % places.length] ?? [];
  holder[key] = put;
  return raw;
}

/** The same with a hostile text before every text whose key says that a person or a file may have written it. */
export function hostileTexts(value: unknown, keys: readonly string[], key = ""): unknown {
  if (Array.isArray(value)) return value.map((item) => hostileTexts(item, keys, key));
  if (typeof value === "object" && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, hostileTexts(inner, keys, name)]));
  }
  const isFree = typeof value === "string" && keys.includes(key);
  return isFree ? `"><script>alert(1)</script>\u202E\u0000\u001b[31m\ud800${value}` : value;
}

export interface Drawn {
  readonly code: number;
  readonly said: string;
}

/**
 * Draws a file again: a page that runs nothing and reaches out nowhere, or a refusal in words; nothing beside the output, nothing said
 * that would steer a terminal.
 */
export async function drawAgain(raw: unknown, page: "report" | "comparison", formats = "html"): Promise<Drawn> {
  const folder = emptyFolder();
  mkdirSync(join(folder, "in"));
  const file = join(folder, "in", page === "report" ? "results.json" : "comparison.json");
  writeFileSync(file, textOf(raw));
  const ended = await call(["render", file, "--formats", formats, "--out", join(folder, "out")]);
  expect(ended.err).not.toMatch(/^ {4}at /m);
  expect([0, 2]).toContain(ended.code);
  expect(ended.err).not.toMatch(steersTerminal);
  expect(ended.err.length).toBeLessThan(5000);
  const written = [...filesIn(folder)];
  expect(written.filter(([name]) => !/^(?:in\/[a-z]+\.json|out\/[a-z0-9-]+\/)/.test(name))).toEqual([]);
  const html = written.find(([name]) => name.endsWith(`${page}.html`))?.[1].toString("utf8") ?? "";
  // Between tags such a text is only read.
  expect(reachesOut(html.replace(/>[^<>]*</g, "><"))).toEqual([]);
  expect(html.match(/<style[^>]*>[^<]*http[^<]*<\/style>/)).toBeNull();
  expect(html).not.toMatch(unreadable);
  const document = written.find(([name]) => name.endsWith(".docx"));
  const parts = [...(document === undefined ? [] : xmlIn(document[1]))];
  expect(parts.length > 4).toBe(formats.includes("docx") && ended.code === 0);
  for (const [name, xml] of parts) expect([name, unreadable.exec(xml)?.[0]]).toEqual([name, undefined]);
  return { code: ended.code, said: ended.err };
}
