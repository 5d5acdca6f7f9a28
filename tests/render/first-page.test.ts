import { describe, expect, it } from "vitest";
import { type FirstPage, fitting } from "../../src/render/view/first-page.js";

const line = (letters: number): string => "x".repeat(letters);
const page = (more: Partial<FirstPage>): FirstPage => ({
  title: line(40),
  lead: line(300),
  paragraphs: [line(120)],
  figure: line(60),
  findings: Array.from({ length: 9 }, () => line(100)),
  steps: Array.from({ length: 9 }, () => line(100)),
  cautions: Array.from({ length: 6 }, () => line(150)),
  cover: { facts: [line(90)], contents: Array.from({ length: 9 }, () => line(20)) },
  ...more,
});

describe("what the first page has room for", () => {
  it("five findings and four steps at most, none that are not there", () => {
    expect(fitting(page({}))).toEqual({ findings: 5, steps: 4, rows: 0 });
    expect(fitting(page({ findings: [], steps: [line(9)] }))).toEqual({ findings: 0, steps: 1, rows: 0 });
  });

  it("fewer where findings or sentences are long, and never fewer than two findings and one step", () => {
    const long = fitting(page({ findings: Array.from({ length: 9 }, () => line(400)) }));
    expect(long.findings).toBeLessThan(5);
    expect(long.findings).toBeGreaterThanOrEqual(2);
    const full = fitting(page({ lead: line(3000) }));
    expect(full).toEqual({ findings: 2, steps: 1, rows: 0 });
  });

  it("more where there is no figure", () => {
    const long = { findings: Array.from({ length: 9 }, () => line(400)) };
    expect(fitting(page({ ...long, figure: null })).findings).toBeGreaterThan(fitting(page(long)).findings);
  });

  it("all rows of a table where they fit, at least two where they do not, and less of the rest for longer cautions", () => {
    const rows = [1, 1, 1, 1, 1, 1];
    expect(fitting(page({ figure: null, rows })).rows).toBe(6);
    expect(fitting(page({ figure: null, rows, lead: line(3000) })).rows).toBe(2);
    const long = page({ cautions: Array.from({ length: 6 }, () => line(500)) });
    expect(fitting(long).findings).toBeLessThan(fitting(page({})).findings);
  });
});
