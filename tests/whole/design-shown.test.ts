import { describe, expect, it } from "vitest";
import type { Message } from "../../src/results/schema.js";
import { resultsSchema } from "../../src/results/schema.js";
import type { Row } from "../cli/small-survey.js";
import { columnsOf, districtRows, type Reported, report } from "./silent-columns.js";

// What the file does not show of the sampling design is said on page one, at the terminal and in what a comparison reads.

const rows: readonly Row[] = districtRows().map((row, i) => ({ ...row, cluster: String(101 + (i % 36)) }));
const without = (column: string): Row[] =>
  rows.map((row) => Object.fromEntries(Object.entries(row).filter(([name]) => name !== column)) as Row);

/** Ids of all messages within a message. */
function idsIn({ id, values }: Message): string[] {
  const inner = Object.values(values).flatMap((value) => (Array.isArray(value) ? value : [value]));
  return [id, ...inner.flatMap((value) => (typeof value === "object" ? idsIn(value as Message) : []))];
}

const onPageOne = ({ results }: Reported): string[] => idsIn(results.story.sentence);
const unknown = ({ results }: Reported): string[] => (results.design.unknown ?? []).map(({ id }) => id);

function wastingOf({ results }: Reported) {
  const found = results.estimates.find(({ id }) => id === "wasting");
  if (found?.overall == null) throw new Error("no wasting");
  return { ...found, overall: found.overall };
}

describe("a design that the file shows", () => {
  it("is told nowhere", async () => {
    const reported = await report(rows, columnsOf());
    expect(unknown(reported)).toEqual([]);
    expect(onPageOne(reported).filter((id) => id.startsWith("design."))).toEqual([]);
    expect(wastingOf(reported).designUnknown).toBeUndefined();
    expect(wastingOf(reported).widened).toBeUndefined();
  });
});

describe("a file without clusters", () => {
  it("says so right beside the interval, at the terminal, and for a comparison, and widens the interval", async () => {
    const reported = await report(without("cluster"), columnsOf({ cluster: "" }));
    expect(reported.code).toBe(0);
    expect(resultsSchema.parse(reported.results)).toBeTruthy();
    expect(unknown(reported)).toEqual(["no-clusters"]);
    const said = onPageOne(reported);
    expect(said.indexOf("design.no-clusters")).toBeGreaterThan(
      said.findIndex((id) => id.startsWith("story.estimate.")),
    );
    expect(said).toContain("story.widened.classes");
    expect(said.indexOf("design.no-clusters")).toBeLessThan(said.findIndex((id) => id.startsWith("story.quality")));
    expect(reported.said.join("\n")).toContain("names no clusters");
    expect(reported.results.comparable.definition.designUnknown).toEqual(["no-clusters"]);
    const { overall, widened, designUnknown } = wastingOf(reported);
    expect(designUnknown).toEqual(["no-clusters"]);
    // A design effect of 1.5 widens the logit interval by its square root.
    const logit = (p: number): number => Math.log(p / (1 - p));
    const width = ({ low, high }: { readonly low: number; readonly high: number }): number => logit(high) - logit(low);
    expect(
      width(widened?.interval ?? { low: 0.5, high: 0.5 }) / width(overall.interval ?? { low: 0, high: 0 }),
    ).toBeCloseTo(Math.sqrt(1.5), 10);
    expect(reported.results.checks.find(({ id }) => id === "design-known")?.reading).toBe("explain");
  });

  it("is believed where the survey says that it drew none", async () => {
    const sampling = "sampling:\n  drawn: children\n";
    const reported = await report(without("cluster"), `${columnsOf({ cluster: "" })}${sampling}`);
    expect(unknown(reported)).toEqual([]);
    expect(reported.said.join("\n")).not.toContain("names no clusters");
    expect(reported.notes.has("no-cluster")).toBe(false);
    expect(reported.results.settings.sampling).toEqual({ drawn: "children" });
  });

  it("is refused where the settings say something else of the sampling", async () => {
    const { code, said } = await report(rows, `${columnsOf()}sampling:\n  drawn: somehow\n`);
    expect(code).toBe(2);
    expect(said.join("\n")).toContain("drawn");
  });
});

describe("one weight of 5,000", () => {
  it("is said beside the figure, no class is named, and the child is in the list for the team only", async () => {
    const weighted = rows.map((row, i) => ({ ...row, wt: i === 40 ? "5000" : "1" }));
    const reported = await report(weighted, columnsOf({ "sampling-weight": "wt" }));
    expect(unknown(reported)).toEqual(["heavy-child", "uneven-weights"]);
    const said = onPageOne(reported);
    expect(said).toContain("design.heavy-child");
    expect(said).toContain("story.class-withheld");
    expect(said.filter((id) => id.startsWith("class."))).toEqual([]);
    expect(said.filter((id) => id.startsWith("story.stands"))).toEqual([]);
    expect(reported.said.join("\n")).toMatch(/One child holds 87\.\d% of all sampling weight/);
    expect(reported.results.checks.find(({ id }) => id === "sampling-weights")).toMatchObject({
      reading: "doubt",
      rowsToCheck: 1,
    });
  });
});

describe("numbers of the population in the settings", () => {
  it("narrow the interval less than the clusters alone would, more where the children of a cluster are known", async () => {
    const error = async (more: string): Promise<number> =>
      wastingOf(await report(rows, `${columnsOf()}${more}`)).overall.standardError as number;
    const plain = await error("");
    const open = await error("clusters-in-population: 72\n");
    const known = await error("clusters-in-population: 72\nchildren-per-cluster: 40\n");
    const whole = await error("clusters-in-population: 72\nchildren-per-cluster: 20\n");
    // Half of the clusters, all of their children: half of the variance is left.
    expect(whole).toBeCloseTo(plain * Math.SQRT1_2, 10);
    expect(known).toBeGreaterThan(whole);
    expect(open).toBeGreaterThan(known);
    expect(open).toBeLessThan(plain);
  });

  it("are refused where a cluster is said to have fewer children than were measured in it", async () => {
    const { code, said } = await report(rows, `${columnsOf()}children-per-cluster: 12\n`);
    expect(code).toBe(2);
    expect(said.join("\n")).toContain("children-per-cluster is 12, and the survey has 20 children in a cluster there");
  });
});
