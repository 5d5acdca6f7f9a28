import { describe, expect, it } from "vitest";
import { tidySvg } from "../../src/render/charts/draw-svg.js";
import { fromRightToLeft, isolated, withoutIsolates } from "../../src/render/isolate.js";

const rli = "\u2067";
const pdi = "\u2069";

describe("a drawing of a language that is read from right to left", () => {
  it("carries the direction in every line of its texts, and none of its own", () => {
    const svg = tidySvg('<svg width="9"><text dx="1"><tspan>B</tspan><tspan dy="14">C</tspan></text></svg>', "rtl");
    expect(svg).toBe(
      `<svg direction="ltr" width="9"><text dx="1"><tspan>${rli}B${pdi}</tspan><tspan dy="14">${rli}C${pdi}</tspan></text></svg>`,
    );
  });
});

describe("isolates", () => {
  it("are balanced on every line, whatever the line has lost", () => {
    const whole = isolated("Upper Farquist");
    expect(fromRightToLeft(whole)).toBe(`${rli}${whole}${pdi}`);
    expect(fromRightToLeft(whole.slice(0, 6))).toBe(`${rli}${whole.slice(0, 6)}${pdi}${pdi}`);
    expect(fromRightToLeft(whole.slice(6))).toBe(`${rli}Farquist`.replace("Farquist", whole.slice(6, -1)) + pdi);
  });

  it("can be taken away", () => expect(withoutIsolates(`x ${isolated("y")}`)).toBe("x y"));
});
