import { describe, expect, it } from "vitest";
import { ageGroups, groupings } from "../../src/disclosure/splits.js";
import { codedColumn, makeChildren } from "../checks/make-children.js";

const by = (children: Parameters<typeof groupings>[0]): string[] => groupings(children).map((grouping) => grouping.by);

describe("groups", () => {
  it("ages are split at 6, 12, 24, 36 and 48 completed months, the lower end inside", () => {
    const months = [0, 5.99, 6, 11.99, 12, 23.99, 24, 36, 47.99, 48, 59.99, Number.NaN];
    const children = makeChildren({ count: months.length, ageMonths: months });
    const ages = groupings(children).find((grouping) => grouping.by === "age-group");
    expect([...(ages?.codes ?? [])]).toEqual([0, 0, 1, 1, 2, 2, 3, 4, 4, 5, 5, -1]);
    expect(ages?.labels.map((label) => (typeof label === "string" ? label : label.values))).toEqual([...ageGroups]);
  });

  it("the age groups meet without gap or overlap, from 0 to 59 months", () => {
    expect(ageGroups[0].from).toBe(0);
    expect(ageGroups.at(-1)?.to).toBe(59);
    for (let i = 1; i < ageGroups.length; i++) expect(ageGroups[i]?.from).toBe((ageGroups[i - 1]?.to ?? 0) + 1);
  });

  it("boys and girls in this order; a child without sex is in neither", () => {
    const children = makeChildren({ count: 4, sex: [2, 1, 0, 1] });
    const sexes = groupings(children).find((grouping) => grouping.by === "sex");
    expect([...(sexes?.codes ?? [])]).toEqual([1, 0, -1, 0]);
    expect(sexes?.labels).toEqual([
      { id: "sex.male", values: {} },
      { id: "sex.female", values: {} },
    ]);
  });

  it("a column with one group only is no split", () => {
    const children = makeChildren({
      count: 6,
      sex: [1, 1, 1, 1, 1, 0],
      ageMonths: [1, 2, 3, 4, 5, 5],
      area: () => "town",
      team: (i) => (i < 3 ? "T1" : null),
      stratum: (i) => (i < 3 ? "north" : "south"),
    });
    expect(by(children)).toEqual(["stratum"]);
  });

  it("a column used in two roles is split once, and the user's own columns keep their names", () => {
    const count = 4;
    const district = codedColumn("district", ["a", "b", "a", "b"], count);
    const water = codedColumn("water", ["well", "tap", "tap", "well"], count);
    if (district === null || water === null) throw new Error("no column");
    const children = { ...makeChildren({ count }), area: district, stratum: district, subgroups: [water, district] };
    expect(by(children)).toEqual(["sex", "age-group", "area", "column"]);
    expect(groupings(children).at(-1)).toMatchObject({ by: "column", columnName: "water" });
  });

  it("prints the labels that may be printed, not those of the file", () => {
    const count = 4;
    const team = { ...makeChildren({ count, team: ["Ada", "Bo", "Ada", "Bo"] }).team } as NonNullable<
      ReturnType<typeof makeChildren>["team"]
    >;
    const children = { ...makeChildren({ count }), team: { ...team, publicLabels: ["team A", "team B"] } };
    expect(groupings(children).find((grouping) => grouping.by === "team")?.labels).toEqual(["team A", "team B"]);
  });
});
