import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { jsonPieces } from "../../src/render/json-pieces.js";
import { sampleFolder } from "../whole/program.js";

const whole = (value: unknown): string => [...jsonPieces(value)].join("");

describe("JSON in pieces", () => {
  it.each([
    null,
    0,
    "a\nb",
    [],
    {},
    [[], {}],
    [undefined, null, [undefined]],
    { a: undefined, b: { c: undefined, d: [] } },
    { 'a "quoted" key': { é: [1, [2, [3, [4, [5, { six: ["\u2028", "\n  "] }]]]]] } },
  ])("is the text that JSON.stringify gives: %j", (value) => {
    expect(whole(value)).toBe(`${JSON.stringify(value, null, 1)}\n`);
  });

  it("is so for a large text, which comes in several pieces, as often as it is asked for", () => {
    const large = Array.from({ length: 4000 }, (_, i) => ({
      i,
      text: readFileSync(`${sampleFolder}/quillmar.yaml`, "utf8"),
    }));
    const pieces = jsonPieces(large);
    const text = `${JSON.stringify(large, null, 1)}\n`;
    expect([...pieces].length).toBeGreaterThan(10);
    expect([...pieces].join("") === text).toBe(true);
  });
});
