import { describe, expect, it } from "vitest";
import { theme } from "../../src/render/charts/theme.js";
import { templateText } from "../../src/render/templates.js";

const tokens = templateText("style/tokens.css");
const sheets = ["screen", "print", "margins"].map((name) => ({
  name,
  text: templateText(`style/${name}.css`).replace(/\/\*[\s\S]*?\*\//g, ""),
}));
/** 'font-size: 1rem' and the like, one for each declaration of the property. */
const declared = (text: string, property: string): string[] =>
  [...text.matchAll(new RegExp(`(?<![\\w-])${property}:\\s*([^;]+);`, "g"))].map(([, value]) => value?.trim() ?? "");

describe.each(sheets)("$name.css takes from tokens.css", ({ text }) => {
  it("every size of type", () => {
    for (const size of declared(text, "font-size")) expect(size).toMatch(/^var\(--size-[a-z0-9-]+\)$/);
    for (const font of declared(text, "font"))
      expect(font).toMatch(/^\d00 var\(--size-[a-z0-9-]+\) \/ .* var\(--s\w+\)$/);
    for (const leading of declared(text, "line-height")) expect(leading).toMatch(/^var\(--leading(-\w+)?\)$/);
  });

  it("every colour", () => {
    expect(text).not.toMatch(/#[0-9a-f]{3,8}\b(?=[^{]*;)|\b(?:rgb|hsl|oklch|lab)a?\(/i);
    for (const property of ["color", "background", "stroke", "fill"])
      for (const colour of declared(text, property))
        expect(colour).toMatch(/^(?:var\(--[a-z-]+\)|inherit|none|CanvasText)$/);
  });

  it("and names none that is not there", () => {
    const known = new Set([...tokens.matchAll(/(--[a-z0-9-]+):/g)].map(([, name]) => name));
    const used = [...text.matchAll(/var\((--[a-z0-9-]+)\)/g)].map(([, name]) => name);
    expect(used.filter((name) => !known.has(name))).toEqual([]);
  });

  it("keeps to the start and the end of a line, never to left and right", () => {
    expect(text.replace(/@(?:top|bottom)-(?:left|right)/g, "")).not.toMatch(/(?:[\w-]+-)?(?:left|right)\s*:/);
  });
});

describe("tokens.css", () => {
  it("has no token that nothing uses", () => {
    const all = [tokens, ...sheets.map(({ text }) => text)].join("\n");
    const names = new Set([...tokens.matchAll(/(--[a-z0-9-]+):/g)].map(([, name]) => name ?? ""));
    expect([...names].filter((name) => !all.includes(`var(${name})`))).toEqual([]);
  });

  it("and the charts have the same palette", () => {
    for (const name of ["paper", "ink", "quiet", "line", "blue", "ochre"] as const)
      expect(tokens).toContain(`--${name}: ${theme.palette[name]};`);
  });
});
