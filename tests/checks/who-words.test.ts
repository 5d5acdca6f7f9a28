import { readFileSync } from "node:fs";
import { IntlMessageFormat } from "intl-messageformat";
import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/checks/run.js";
import type { Children } from "../../src/derive/children.js";
import type { Message, MessageValue } from "../../src/results/schema.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";
import { messagesIn, whoChecks } from "./who-checks.js";

const file = new URL("../../templates/locales/en.json", import.meta.url);
const words: Record<string, string> = JSON.parse(readFileSync(file, "utf8"));

function asText(value: MessageValue): string | number {
  if (typeof value === "number" || typeof value === "string") return value;
  if ("id" in value) return say(value);
  return value.map((inner) => asText(inner)).join(", ");
}

function say(given: Message): string {
  const pattern = words[given.id];
  if (pattern === undefined) throw new Error(`No words for ${given.id}`);
  const values = Object.fromEntries(Object.entries(given.values).map(([key, value]) => [key, asText(value)]));
  return String(new IntlMessageFormat(pattern, "en").format(values));
}

describe("words", () => {
  const surveys: readonly (readonly [string, Children])[] = [
    ["a clean survey", cleanSurvey({ seed: 3 })],
    ["ages in months", cleanSurvey({ seed: 4, monthsOnly: true })],
    ["no teams", { ...cleanSurvey({ seed: 5 }), team: null, cluster: null, area: null }],
    ["one child", makeChildren({ count: 1, position: () => 1, z: { "height-for-age": () => 0 } })],
    ...Object.entries(faultySurveys),
  ];
  it.each(surveys)("has words for all that is said, with all their values: %s", (_, children) => {
    for (const settings of [
      makeSettings(),
      makeSettings({ positionRule: "height", ageRange: { from: 6, to: 59 } }),
      makeSettings({ ageRange: { from: 24, to: 30 } }),
    ]) {
      for (const check of whoChecks) {
        const { result, rows } = runCheck(check, children, settings);
        for (const given of messagesIn([result, rows])) {
          if (given.id.startsWith("checks.unknown") || given.id.startsWith("needs.")) continue;
          const text = say(given);
          expect(text.trim()).not.toBe("");
          expect(text).not.toMatch(/NaN|Infinity|undefined|\{|∞/);
        }
        for (const { id } of [...result.quantities, ...result.groups.flatMap((group) => group.quantities)]) {
          expect([id, words[`quantity.${id}`] !== undefined]).toEqual([id, true]);
        }
      }
    }
  });

  it("has a title for every check", () => {
    for (const { id } of whoChecks) expect([id, words[`checks.${id}.title`] !== undefined]).toEqual([id, true]);
  });
});
