import { describe, expect, it } from "vitest";
import { protectedGroups } from "../../src/estimates/disclosure.js";
import type { Estimate } from "../../src/estimates/estimate.js";
import type { Grouping } from "../../src/estimates/groups.js";
import { estimates } from "../../src/estimates/index.js";
import { runEstimate } from "../../src/estimates/run.js";
import type { EstimateResult } from "../../src/results/schema.js";
import { randomStream, seedFor } from "../../src/stats/random.js";
import { codedColumn, makeChildren, makeSettings } from "../checks/make-children.js";

const grouping = (codes: readonly number[]): Grouping => ({
  by: "column",
  codes: Int32Array.from(codes),
  labels: Array.from({ length: Math.max(...codes) + 1 }, (_, i) => String(i)),
});

/** Rows i of groups with these sizes. */
const sized = (...sizes: readonly number[]): number[] => sizes.flatMap((n, group) => Array<number>(n).fill(group));

/** Groups that are not shown: too small, or protecting another. */
function hiddenIn(groupings: readonly Grouping[], domain?: Uint8Array): number[][] {
  const inside = domain ?? new Uint8Array(groupings[0]?.codes.length ?? 0).fill(1);
  return protectedGroups(groupings, inside).map((kept, at) => {
    const { codes, labels } = groupings[at] as Grouping;
    const n = labels.map((_, group) => codes.filter((code, i) => code === group && inside[i] === 1).length);
    return labels
      .map((_, group) => group)
      .filter((group) => kept.has(group) || ((n[group] ?? 0) > 0 && (n[group] ?? 0) < 25));
  });
}

/**
 * The attack: somebody who has all that is shown of two splits, and knows which groups overlap at all, solves for the
 * children in one group of each. True where the wanted sum is a combination of what is shown (Gaussian elimination).
 */
function canWorkOut(shown: readonly (readonly number[])[], wanted: readonly number[]): boolean {
  const rows = shown.map((row) => [...row]);
  const target = [...wanted];
  let top = 0;
  for (let column = 0; column < target.length; column++) {
    const pivot = rows.findIndex((row, at) => at >= top && Math.abs(row[column] ?? 0) > 1e-9);
    if (pivot < 0) continue;
    [rows[top], rows[pivot]] = [rows[pivot] as number[], rows[top] as number[]];
    const own = rows[top] as number[];
    for (const row of [...rows.slice(top + 1), target]) {
      const factor = (row[column] ?? 0) / (own[column] ?? 1);
      for (let k = column; k < row.length; k++) row[k] = (row[k] ?? 0) - factor * (own[k] ?? 0);
    }
    top++;
  }
  return target.every((rest) => Math.abs(rest) < 1e-9);
}

/** Every set of 1 to 24 children, within one group or within a cell of the cross table, that the attack works out. */
function revealed(one: Grouping, other: Grouping, hidden: readonly (readonly number[])[]): string[] {
  const keys = new Map<string, number>();
  one.codes.forEach((code, i) => {
    const key = `${code} ${other.codes[i]}`;
    keys.set(key, (keys.get(key) ?? 0) + 1);
  });
  const cells = [...keys].map(([key, n]) => ({ key, n, groups: key.split(" ").map(Number) }));
  const sum = (test: (groups: readonly number[]) => boolean): number[] =>
    cells.map(({ groups }) => (test(groups) ? 1 : 0));
  const shown = [sum(() => true)];
  [one, other].forEach(({ labels }, at) => {
    labels.forEach((_, group) => {
      if (hidden[at]?.includes(group) !== true) shown.push(sum((groups) => groups[at] === group));
    });
  });
  const found: string[] = [];
  for (const { key, n, groups } of cells) {
    const named = groups.every((group) => group >= 0);
    if (
      named &&
      n < 25 &&
      canWorkOut(
        shown,
        sum((own) => own.join(" ") === key),
      )
    )
      found.push(`cell ${key}: ${n}`);
  }
  hidden.forEach((groups, at) => {
    for (const group of groups) {
      if (
        canWorkOut(
          shown,
          sum((own) => own[at] === group),
        )
      )
        found.push(`group ${group} of split ${at}`);
    }
    const together = cells.filter((cell) => groups.includes(cell.groups[at] ?? -1)).reduce((all, { n }) => all + n, 0);
    if (together > 0 && together < 25) found.push(`all withheld groups of split ${at} together: ${together}`);
  });
  return found;
}

describe("within one split", () => {
  it.each([
    ["nothing small: nothing withheld", [30, 40, 50], []],
    ["one small group takes the smallest other with it", [10, 60, 40, 50], [0, 2]],
    ["two small groups of fewer than 25 children together take a third with them", [10, 60, 40, 5], [0, 2, 3]],
    ["two small groups of 25 children together are enough", [13, 60, 40, 12], [0, 3]],
    ["an empty group protects nobody", [10, 0, 40, 50], [0, 2]],
    ["of two groups neither is shown", [10, 100], [0, 1]],
  ] as const)("%s", (_, sizes, hidden) => {
    expect(hiddenIn([grouping(sized(...sizes))])).toEqual([hidden]);
  });

  it("only the children of the estimate count", () => {
    const split = grouping(sized(30, 40, 50));
    const domain = Uint8Array.from(split.codes, (_, i) => (i < 20 ? 0 : 1));
    expect(hiddenIn([split], domain)).toEqual([[0, 1]]);
  });
});

describe("between two splits of the same children", () => {
  // Town is all of the north but ten children: north less town would be those ten.
  const nested = [grouping(sized(100, 310)), grouping(sized(110, 300))] as const;

  it("the attack finds a small rest where nothing is withheld", () => {
    expect(revealed(...nested, [[], []])).toEqual(["cell 1 0: 10"]);
  });

  it("a small rest of nested groups is protected", () => {
    const hidden = hiddenIn(nested);
    expect(hidden.flat().length).toBeGreaterThan(0);
    expect(revealed(...nested, hidden)).toEqual([]);
  });

  it("splits that cross freely, and nested ones with large rests, are left as they are", () => {
    const crossed = [grouping(sized(60, 60, 60)), grouping([...sized(30, 30), ...sized(30, 30), ...sized(30, 30)])];
    expect(hiddenIn(crossed)).toEqual([[], []]);
    const teams = [grouping(sized(60, 60, 80)), grouping(sized(120, 80))];
    expect(hiddenIn(teams)).toEqual([[], []]);
  });

  it("a group less several groups that lie in it is looked at too", () => {
    // The first district holds villages 0 and 1 and, of village 2, six children and six more of village 3.
    const district = grouping([...sized(72), ...Array<number>(200).fill(1)]);
    const village = grouping([...sized(30, 30, 6, 6), ...Array<number>(100).fill(2), ...Array<number>(100).fill(3)]);
    const [districts = [], villages = []] = hiddenIn([district, village]);
    const whole = !districts.includes(0) && ![0, 1].some((group) => villages.includes(group));
    expect(whole).toBe(false);
  });

  it("no attack on two hundred random pairs of splits works out fewer than 25 children", () => {
    const stream = randomStream(seedFor(1, "disclosure-test"));
    const below = (n: number): number => stream.below(n);
    let protectedPairs = 0;
    let attackable = 0;
    for (let round = 0; round < 200; round++) {
      const places = 2 + below(4);
      // The first is large: a survey of a few children has nothing to hide behind.
      const first = sized(60, ...Array.from({ length: places - 1 }, () => 5 + below(90)));
      // Mostly the same as the first split, with some children elsewhere: this is where subtraction works.
      const merge = Array.from({ length: places }, () => below(3));
      const second = first.map((code) => (stream.uniform() < 0.06 ? below(3) : (merge[code] ?? 0)));
      const pair = [grouping(first), grouping(second)] as const;
      const small = pair.map((split) => {
        const n = split.labels.map((_, group) => split.codes.filter((code) => code === group).length);
        return n.flatMap((size, group) => (size > 0 && size < 25 ? [group] : []));
      });
      const hidden = hiddenIn(pair);
      if (revealed(...pair, small).length > 0) attackable++;
      if (hidden.flat().length > small.flat().length) protectedPairs++;
      expect(revealed(...pair, hidden), `round ${round}`).toEqual([]);
    }
    // The attack is a real one: it works on many of these where only the small groups are withheld.
    expect(attackable).toBeGreaterThan(50);
    expect(protectedPairs).toBeGreaterThanOrEqual(attackable);
  });
});

describe("the estimates of one survey", () => {
  const count = 600;
  const place = (i: number): string => (i < 20 ? "camp" : i < 60 ? "hill" : i < 300 ? "town" : "plain");
  const children = {
    ...makeChildren({
      count,
      cluster: (i) => String(Math.floor(i / 20)),
      area: place,
      team: (i) => (i < 12 ? "T9" : `T${1 + (i % 4)}`),
      oedema: (i) => (i % 150 === 10 ? 1 : 0),
      z: {
        "weight-for-height": (i) => (i % 150 === 10 ? Number.NaN : i % 9 === 0 ? -2.5 : 0.1 * (i % 7)),
        "height-for-age": (i) => (i % 5 === 0 ? -2.4 : 0.3),
      },
    }),
    subgroups: [
      codedColumn("water", (i) => (place(i) === "camp" || i === 20 ? "truck" : i % 2 === 0 ? "well" : "tap"), count),
    ].filter((column) => column !== null),
  };
  const results = new Map<string, EstimateResult>(
    estimates
      .filter(({ id }) => /wasting|weight-for-height|stunting|oedema/.test(id))
      .map((estimate: Estimate) => [estimate.id, runEstimate(estimate, children, makeSettings())]),
  );
  const cellsOf = (id: string, by: string) => results.get(id)?.subgroups.find((one) => one.by === by)?.cells ?? [];

  it("a withheld group has no number anywhere, in any estimate", () => {
    let withheld = 0;
    for (const { subgroups } of results.values()) {
      for (const cell of subgroups.flatMap(({ cells }) => cells)) {
        if (cell.n >= 25 && cell.status !== "withheld") continue;
        withheld++;
        const { value, standardError, interval, designEffect, standardDeviation, classification } = cell;
        expect([value, standardError, interval, designEffect].every((one) => one === null)).toBe(true);
        expect([standardDeviation ?? null, classification ?? null]).toEqual([null, null]);
      }
    }
    expect(withheld).toBeGreaterThan(20);
  });

  it("every split of every estimate that withholds one withholds another, of 25 children together", () => {
    for (const [id, { subgroups }] of results) {
      for (const { by, cells } of subgroups) {
        const hidden = cells.filter((cell) => cell.status === "withheld");
        if (hidden.length === 0) continue;
        expect(hidden.length, `${id} ${by}`).toBeGreaterThan(1);
        expect(
          hidden.reduce((sum, { n }) => sum + n, 0),
          `${id} ${by}`,
        ).toBeGreaterThanOrEqual(25);
      }
    }
  });

  it("the total less what is shown never gives the cases of fewer than 25 children", () => {
    for (const [id, { overall, subgroups }] of results) {
      for (const { by, cells } of subgroups) {
        const rest = (overall?.n ?? 0) - cells.reduce((sum, { n, value }) => sum + (value === null ? 0 : n), 0);
        expect(rest === 0 || rest >= 25, `${id} ${by}: ${rest}`).toBe(true);
      }
    }
  });

  it("the same groups are withheld of wasting, and of acute malnutrition which is wasting and oedema", () => {
    for (const by of ["area", "team", "column"]) {
      const hidden = (id: string) =>
        cellsOf(id, by).flatMap((cell) => (cell.status === "withheld" ? [cell.label] : []));
      expect(hidden("wasting").length).toBeGreaterThan(0);
      expect(hidden("acute-malnutrition-by-weight-for-height")).toEqual(hidden("wasting"));
      expect(hidden("severe-wasting")).toEqual(hidden("wasting"));
    }
  });

  it("groups are given under one exclusion rule only: two rules could be subtracted", () => {
    for (const { byExclusion } of results.values()) {
      expect(byExclusion.every((one) => !("subgroups" in one))).toBe(true);
    }
  });
});
