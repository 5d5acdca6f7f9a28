import { describe, expect, it } from "vitest";
import { groupSentences, leadOf, namedFirst } from "../../src/checks/age-heaping/heaped-groups.js";
import type { HeapedGroup } from "../../src/checks/age-heaping/month-heaps.js";
import { notStated } from "../../src/results/group.js";
import type { Message } from "../../src/results/schema.js";

const group = (
  by: string,
  label: string,
  excess: number,
  ratio: number,
  reading: HeapedGroup["reading"],
): HeapedGroup => ({
  of: notStated,
  by,
  label,
  n: 100,
  cases: 20,
  share: 0.2,
  interval: { low: 0.1, high: 0.3, level: 0.95 },
  expected: 1 / 7,
  chance: { low: 0.1, high: 0.2 },
  probability: 0.01,
  adjustedProbability: 0.01,
  excess,
  ratio,
  on: "years",
  reading,
});
const even = (by: string) => group(by, "even", 0, 1, "expected");

describe("the group that leads", () => {
  const district = group("stratum", "D", 0.4, 13, "doubt");

  it("is the place, although every team shows some of it", () => {
    const teams = ["T1", "T2", "T3"].map((label, i) => group("team", label, 0.1 + i / 100, 3, "doubt"));
    expect(leadOf([...teams, district, even("stratum")])?.label).toBe("D");
    // A team that worked in that place alone crowds as much, give or take chance.
    expect(leadOf([group("team", "T1", 0.45, 15, "doubt"), even("team"), district, even("stratum")])?.label).toBe("D");
  });

  it("is the team, where its crowding is clearly stronger than that of any place", () => {
    const places = [group("area", "A", 0.08, 2, "explain"), even("area")];
    expect(leadOf([group("team", "T1", 0.4, 9, "doubt"), even("team"), ...places])?.label).toBe("T1");
  });

  it("is none where all groups of every kind crowd; then the strongest is named where one must be", () => {
    const all = [group("area", "A", 0.2, 5, "doubt"), group("area", "B", 0.3, 6, "doubt")];
    expect(leadOf(all)).toBeNull();
    expect(namedFirst(all)?.label).toBe("B");
    expect(leadOf([even("team")])).toBeNull();
    expect(namedFirst([even("team")])).toBeNull();
  });

  it("is followed by the three strongest of each kind, and how many more there are", () => {
    const teams = [2, 5, 3, 4, 6].map((ratio) => group("team", `T${ratio}`, 0.1, ratio, "doubt"));
    const said = groupSentences([...teams, district, even("stratum")]);
    expect(said.map(({ id }) => id)).toEqual([
      "checks.age-heaping.meaning.strongest",
      "checks.age-heaping.meaning.kind",
      "checks.age-heaping.meaning.teams-follow",
    ]);
    expect(said[0]?.values).toMatchObject({ times: 13, known: "yes", on: "years" });
    const named = said[1]?.values.groups as readonly Message[];
    expect(named.map(({ values }) => values.group)).toEqual(["T6", "T5", "T4"]);
    expect(said[1]?.values.more).toBe(2);
  });

  it("gives no number where every child stands on a multiple", () => {
    const said = groupSentences([group("area", "A", 0.6, Number.POSITIVE_INFINITY, "doubt"), even("area")]);
    expect(said[0]?.values).toMatchObject({ known: "no", times: 0 });
  });
});
