import { isMap, isScalar, LineCounter, type Pair, parseDocument, visit, type YAMLMap } from "yaml";
import type { z } from "zod";
import { InputError, type InputProblem, inputProblem } from "./problems.js";
import { type JsonSchema, settingsProblems } from "./settings-problems.js";
import { isNestedTooDeep } from "./yaml-depth.js";

/** The value that the draft writes where the user has to decide; no schema accepts it. */
export const unanswered = "?";

type YamlDocument = ReturnType<typeof parseDocument>;
export type Path = readonly (string | number)[];

/** A settings file that has passed its schema. */
export interface SettingsFile<Values> {
  /** Its file name, for messages. */
  readonly file: string;
  readonly values: Values;
  /** Line of a key, for messages about what is settled in the settings. */
  lineOf(path: Path): number | undefined;
}

/** Most signs of a settings file: many times what a comparison of 500 surveys needs. */
const mostSigns = 300_000;

/** The pairs of a mapping by their keys' texts. */
function pairsByKey(map: YAMLMap): ReadonlyMap<string, Pair> {
  const pairs = map.items.flatMap((pair) => (isScalar(pair.key) ? [[String(pair.key.value), pair] as const] : []));
  return new Map(pairs);
}

/** The line on which a value stands, or the nearest key above it that exists. */
function lineFinder(document: YamlDocument, lines: LineCounter): (path: Path) => number | undefined {
  const known = new WeakMap<YAMLMap, ReadonlyMap<string, Pair>>();
  const pairsOf = (map: YAMLMap): ReadonlyMap<string, Pair> => {
    const pairs = known.get(map) ?? pairsByKey(map);
    known.set(map, pairs);
    return pairs;
  };
  return (path) => {
    for (let length = path.length; length >= 0; length--) {
      const parent = document.getIn(path.slice(0, Math.max(0, length - 1)), true);
      const wanted = path[length - 1];
      if (isMap(parent) && length > 0) {
        const pair = pairsOf(parent).get(String(wanted));
        if (isScalar(pair?.key) && pair.key.range) return lines.linePos(pair.key.range[0]).line;
      }
      const node = length === 0 ? document.contents : document.getIn(path.slice(0, length), true);
      const range =
        typeof node === "object" && node !== null && "range" in node ? (node.range as number[] | null) : null;
      if (range) return lines.linePos(range[0] ?? 0).line;
    }
    return undefined;
  };
}

/** Every place where the draft's question mark still stands. */
function unansweredProblems(document: YamlDocument, lines: LineCounter, file: string): InputProblem[] {
  const problems: InputProblem[] = [];
  visit(document, {
    Scalar(place, node, ancestors) {
      if (place === "key" || node.value !== unanswered) return;
      const keys = ancestors.flatMap((ancestor) =>
        typeof ancestor === "object" && "key" in ancestor && isScalar(ancestor.key) ? [String(ancestor.key.value)] : [],
      );
      const line = lines.linePos(node.range?.[0] ?? 0).line;
      problems.push(inputProblem("settings-unanswered", file, { line, value: keys.join(" > ") }));
    },
  });
  return problems;
}

/** Numbers, from 1, of the lines of a draft that hold an open question. */
export function unansweredLines(text: string): number[] {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines });
  return unansweredProblems(document, lines, "").map(({ line = 0 }) => line);
}

/** What the usual faults of the notation are, in words of our own: `input.example.settings-syntax`. */
const faults: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: "tab",
  BAD_INDENT: "indent",
  BLOCK_AS_IMPLICIT_KEY: "colon",
  MULTILINE_IMPLICIT_KEY: "colon",
  MISSING_CHAR: "unclosed",
  BAD_SCALAR_START: "start",
  BAD_ALIAS: "start",
  DUPLICATE_KEY: "twice",
  KEY_OVER_1024_CHARS: "long",
  UNEXPECTED_TOKEN: "unexpected",
  BAD_DQ_ESCAPE: "backslash",
  MULTIPLE_DOCS: "documents",
};

const faultOf = (code: string): string => faults[code] ?? "other";

function syntaxProblems(document: YamlDocument, lines: LineCounter, file: string): InputProblem[] {
  return document.errors.map((error) =>
    inputProblem("settings-syntax", file, {
      line: lines.linePos(error.pos[0]).line,
      details: { what: faultOf(error.code) },
    }),
  );
}

/** Keys that stand twice in one mapping. The parser's own search compares every key with every other. */
function repeatedKeys(document: YamlDocument, lines: LineCounter, file: string): InputProblem[] {
  const problems: InputProblem[] = [];
  visit(document, {
    Map(_, map) {
      const seen = new Set<unknown>();
      for (const { key } of map.items) {
        if (!isScalar(key)) continue;
        if (seen.has(key.value)) {
          const line = lines.linePos(key.range?.[0] ?? 0).line;
          problems.push(inputProblem("settings-syntax", file, { line, details: { what: "twice" } }));
        }
        seen.add(key.value);
      }
    },
  });
  return problems;
}

/** The document as plain data. Aliases that unfold without end are refused. */
function plainValue(document: YamlDocument, file: string): unknown {
  try {
    return document.toJS();
  } catch {
    throw new InputError([inputProblem("settings-syntax", file, { line: 1, details: { what: "aliases" } })]);
  }
}

/** What a settings file must be: its schema, the same as JSON Schema (for the keys to suggest), and what no single value shows. */
export interface SettingsKind<Values> {
  readonly schema: z.ZodType<Values>;
  jsonSchema(): JsonSchema;
  cross(values: Values, lineOf: SettingsFile<Values>["lineOf"], file: string): readonly InputProblem[];
}

/**
 * Reads the text of a settings file. Throws InputError with every problem, each with its line: broken YAML, questions of
 * the draft left open, keys and values that the schema does not know.
 */
export function parseSettings<Values>(text: string, file: string, kind: SettingsKind<Values>): SettingsFile<Values> {
  if (text.length > mostSigns) {
    throw new InputError([inputProblem("file-too-large", file, { details: { what: "packed", limit: mostSigns } })]);
  }
  if (isNestedTooDeep(text)) {
    throw new InputError([inputProblem("settings-syntax", file, { line: 1, details: { what: "depth" } })]);
  }
  const lines = new LineCounter();
  const options = { lineCounter: lines, prettyErrors: false, uniqueKeys: false, logLevel: "error" } as const;
  const document = parseDocument(text, options);
  const broken = [...syntaxProblems(document, lines, file), ...repeatedKeys(document, lines, file)];
  if (broken.length > 0) throw new InputError(broken);
  const lineOf = lineFinder(document, lines);
  const open = unansweredProblems(document, lines, file);
  const openLines = new Set(open.map((problem) => problem.line));
  const raw: unknown = plainValue(document, file);
  const parsed = kind.schema.safeParse(raw);
  const found = parsed.success
    ? kind.cross(parsed.data, lineOf, file)
    : settingsProblems(parsed.error, raw, lineOf, file, kind.jsonSchema());
  const problems = [...open, ...found.filter((problem) => !openLines.has(problem.line))];
  if (problems.length > 0 || !parsed.success) throw new InputError(problems);
  return { file, values: parsed.data, lineOf };
}
