import { describe, expect, it } from "vitest";
import { mirrorSvg } from "../../src/render/charts/mirror.js";
import { fromRightToLeft, isolated, withoutIsolates } from "../../src/render/isolate.js";

const rli = "\u2067";
const pdi = "\u2069";

describe("a mirrored drawing", () => {
  const svg =
    '<svg width="200" viewBox="0 0 200 90"><path d="M0,0h20"/><text/>' +
    '<text text-anchor="start" transform="translate(30,40)">A</text>' +
    '<text text-anchor="middle" transform="translate(5,6) rotate(-90)"><tspan>B</tspan><tspan dy="14">C</tspan></text></svg>';
  const mirrored = mirrorSvg(svg);

  it("is turned about its middle as a whole, in a direction of its own", () => {
    expect(mirrored).toMatch(
      /^<svg width="200" viewBox="0 0 200 90" direction="ltr"><g transform="translate\(200,0\) scale\(-1,1\)">/,
    );
    expect(mirrored).toMatch(/<\/g><\/svg>$/);
    expect(mirrored).toContain('<path d="M0,0h20"/><text/>');
  });

  it("turns every text back about its anchor, to run to the other side of it", () => {
    expect(mirrored).toContain(`<text text-anchor="end" transform="translate(30,40) scale(-1,1)">${rli}A${pdi}</text>`);
    expect(mirrored).toContain('<text text-anchor="middle" transform="translate(5,6) rotate(-90) scale(-1,1)"><tspan>');
    expect(mirrored).toContain(`<tspan>${rli}B${pdi}</tspan><tspan dy="14">${rli}C${pdi}</tspan>`);
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
