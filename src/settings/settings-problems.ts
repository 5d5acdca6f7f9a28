import type { z } from "zod";
import { closest } from "./closest.js";
import { type InputProblem, inputProblem } from "./problems.js";

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];
export type JsonSchema = Readonly<Record<string, unknown>>;

function valueAt(raw: unknown, path: Path): unknown {
  let value = raw;
  for (const key of path) {
    if (typeof value !== "object" || value === null) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/** A role may be a name or a mapping: of a union's branches, the one whose own type fits what was written. */
function flatten(issue: Issue, before: Path): { readonly issue: Issue; readonly path: Path }[] {
  const path = [...before, ...issue.path];
  if (issue.code !== "invalid_union") return [{ issue, path }];
  const fitting = issue.errors.find(
    (branch) => !branch.some((inner) => inner.code === "invalid_type" && inner.path.length === 0),
  );
  if (fitting === undefined) return [{ issue, path }];
  return fitting.flatMap((inner) => flatten(inner, path));
}

/** The keys that a mapping at this path may have. */
function keysAt(path: Path, whole: JsonSchema): string[] {
  let schemas: JsonSchema[] = [whole];
  for (const key of path) {
    schemas = schemas.flatMap(branches).flatMap((schema) => {
      if (typeof key === "number") return schema.items === undefined ? [] : [schema.items as JsonSchema];
      const properties = schema.properties as Record<string, JsonSchema> | undefined;
      const inner = properties?.[String(key)];
      return inner === undefined ? [] : [inner];
    });
  }
  return schemas.flatMap(branches).flatMap((schema) => Object.keys((schema.properties as object | undefined) ?? {}));
}

function branches(schema: JsonSchema): JsonSchema[] {
  return (schema.anyOf as JsonSchema[] | undefined) ?? [schema];
}

function place(path: Path): string {
  return path.map(String).join(" > ");
}

/** What a value of the settings should be, as the last part of a message id `input.type.<...>`. */
function wantedType(issue: Issue): string {
  if (issue.code === "invalid_union") return "textOrMapping";
  const expected = issue.code === "invalid_type" ? String(issue.expected) : "other";
  const known: Readonly<Record<string, string>> = {
    string: "text",
    number: "number",
    int: "wholeNumber",
    boolean: "yesNo",
    object: "mapping",
    record: "mapping",
    array: "list",
  };
  return known[expected] ?? "other";
}

function problemsOf(
  issue: Issue,
  path: Path,
  raw: unknown,
  lineOf: (path: Path) => number,
  file: string,
  whole: JsonSchema,
): InputProblem[] {
  const line = lineOf(path);
  const at = path.length === 0 ? file : place(path);
  const value = valueAt(raw, path);
  switch (issue.code) {
    case "unrecognized_keys":
      return issue.keys.map((key) =>
        inputProblem("settings-unknown-key", file, {
          line: lineOf([...path, key]),
          value: key,
          details: { suggestion: closest(key, keysAt(path, whole)) ?? "none" },
        }),
      );
    case "invalid_value":
      return [
        inputProblem("settings-not-an-option", file, {
          line,
          value: String(value),
          details: { place: at, options: issue.values.map(String) },
        }),
      ];
    case "too_small":
    case "too_big": {
      if (issue.origin === "string")
        return [inputProblem("settings-wrong-type", file, { line, details: { place: at, wanted: "text" } })];
      const limit = Number(issue.code === "too_small" ? issue.minimum : issue.maximum);
      const details = { place: at, limit, side: issue.code === "too_small" ? "least" : "most" };
      return [inputProblem("settings-out-of-range", file, { line, value: String(value), details })];
    }
    default:
      if (value === undefined) return [inputProblem("settings-missing-key", file, { line, value: at })];
      return [inputProblem("settings-wrong-type", file, { line, details: { place: at, wanted: wantedType(issue) } })];
  }
}

/**
 * The schema's complaints as problems of our own, each with the line it is about and the key most likely meant. `whole` is
 * the schema as JSON Schema: the keys that may stand there.
 */
export function settingsProblems(
  error: z.ZodError,
  raw: unknown,
  lineOf: (path: readonly (string | number)[]) => number | undefined,
  file: string,
  whole: JsonSchema,
): InputProblem[] {
  const line = (path: Path): number => lineOf(path.map((key) => (typeof key === "number" ? key : String(key)))) ?? 1;
  return error.issues
    .flatMap((issue) => flatten(issue, []))
    .flatMap(({ issue, path }) => problemsOf(issue, path, raw, line, file, whole));
}
