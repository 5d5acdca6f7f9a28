import { ageGroups } from "../../src/checks/age-groups/index.js";
import { ageHeaping } from "../../src/checks/age-heaping/index.js";
import { duplicateRows } from "../../src/checks/duplicate-rows/index.js";
import { implausibleValues } from "../../src/checks/implausible-values/index.js";
import { measuringPosition } from "../../src/checks/measuring-position/index.js";
import { missingValues } from "../../src/checks/missing-values/index.js";
import type { AnyCheck } from "../../src/checks/run.js";
import { sexBalance } from "../../src/checks/sex-balance/index.js";
import { youngerOlderRatio } from "../../src/checks/younger-older-ratio/index.js";
import type { Message } from "../../src/results/schema.js";

/** The checks that the tests on words, on poor data and on clean surveys go through together. */
export const whoChecks: readonly AnyCheck[] = [
  missingValues,
  duplicateRows,
  sexBalance,
  ageGroups,
  youngerOlderRatio,
  ageHeaping,
  measuringPosition,
  implausibleValues,
];

/** Paths of numbers that are not finite, anywhere in a result. */
export function notFinite(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [path];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => notFinite(inner, `${path}/${key}`));
}

/** Every message in a result, those inside messages as well. */
export function messagesIn(value: unknown): Message[] {
  if (typeof value !== "object" || value === null) return [];
  const inner = Object.values(value).flatMap(messagesIn);
  const own = value as Partial<Message>;
  return typeof own.id === "string" && typeof own.values === "object" && Object.keys(value).length === 2
    ? [own as Message, ...inner]
    : inner;
}
