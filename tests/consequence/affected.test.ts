import { describe, expect, it } from "vitest";
import { affectedGroups } from "../../src/consequence/affected.js";
import { worldOf } from "../../src/consequence/run.js";
import { notStated } from "../../src/results/group.js";
import type { CheckResult, GroupReading, Reading } from "../../src/results/schema.js";
import { makeChildren, makeSettings } from "../checks/make-children.js";
import { found } from "./example-world.js";

const count = 12;
const children = makeChildren({
  count,
  stratum: (i) => ["north", "south", "west"][i % 3] as string,
  team: (i) => `T${1 + (i % 2)}`,
});

function masks(groups: readonly (readonly [string, string, Reading])[], reading: Reading = "explain"): string[] {
  const check: CheckResult = {
    ...found("age-heaping"),
    reading,
    groups: groups.map(
      ([by, label, own]): GroupReading => ({ of: notStated, by, label, n: 4, reading: own, quantities: [] }),
    ),
  };
  const world = worldOf(children, makeSettings(), [], [check]);
  return affectedGroups(world, "age-heaping").map((mask) => mask.join(""));
}

const ofStratum = (at: number): string => Array.from({ length: count }, (_, i) => Number(i % 3 === at)).join("");
const ofTeam = (at: number): string => Array.from({ length: count }, (_, i) => Number(i % 2 === at)).join("");

describe("the children a finding is about", () => {
  it("nobody where the check found nothing or did not run; all where no group is named", () => {
    expect(masks([["team", "T1", "explain"]], "expected")).toEqual([]);
    expect(affectedGroups(worldOf(children, makeSettings(), [], []), "age-heaping")).toEqual([]);
    expect(masks([])).toEqual(["1".repeat(count)]);
    expect(masks([["team", "T1", "expected"]])).toEqual(["1".repeat(count)]);
  });

  it("the named group; one mask each", () => {
    expect(
      masks([
        ["team", "T1", "explain"],
        ["team", "T2", "expected"],
      ]),
    ).toEqual([ofTeam(0)]);
    expect(
      masks([
        ["team", "T1", "explain"],
        ["team", "T2", "doubt"],
      ]),
    ).toEqual([ofTeam(0), ofTeam(1)]);
  });

  it("the district, where its fault makes every team look unusual", () => {
    const groups = [
      ["team", "T1", "explain"],
      ["team", "T2", "explain"],
      ["stratum", "north", "doubt"],
      ["stratum", "south", "expected"],
    ] as const;
    expect(masks(groups)).toEqual([ofStratum(0)]);
  });

  it("a child of two named groups stands in the first only", () => {
    const both = masks([
      ["stratum", "north", "doubt"],
      ["stratum", "south", "expected"],
      ["team", "T1", "doubt"],
      ["team", "T2", "expected"],
    ]);
    expect(both).toHaveLength(2);
    expect(both[0]).toBe(ofStratum(0));
    for (let i = 0; i < count; i++) expect(Number(both[0]?.[i]) + Number(both[1]?.[i])).toBeLessThanOrEqual(1);
  });
});
