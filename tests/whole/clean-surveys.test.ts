import { beforeAll, describe, expect, it } from "vitest";
import { checks as everyCheck } from "../../src/checks/index.js";
import type { Reading } from "../../src/results/schema.js";
import { checkExample, resultOf } from "./pipeline.js";

/**
 * Clean surveys must not be blamed: of 200 invented surveys without a fault, each with its own random numbers, each check
 * says 'doubt' in under 2 of 100 and 'explain' or worse in under 8 of 100. A check that cannot tell has not passed.
 */
const surveyCount = 200;
/** The invented surveys have no times of forms: `tests/checks/entry-order.test.ts` makes surveys that do. */
const checks = everyCheck.filter(({ id }) => id !== "entry-order");
const mostDoubt = 0.02;
const mostNoticed = 0.08;

type Counts = Record<Reading, number>;
const counts = new Map<string, Counts>();

function table(): string {
  const rows = [...counts].map(([id, c]) => [id, c.expected, c.explain, c.doubt, c.unknown]);
  const lines = [["check", "expected", "explain", "doubt", "unknown"], ...rows].map(([id, ...cells]) =>
    [String(id).padEnd(24), ...cells.map((cell) => String(cell).padStart(9))].join(""),
  );
  return `\nReadings over ${surveyCount} clean surveys\n${lines.join("\n")}\n`;
}

beforeAll(async () => {
  for (const check of checks) counts.set(check.id, { expected: 0, explain: 0, doubt: 0, unknown: 0 });
  for (let seed = 1; seed <= surveyCount; seed++) {
    const checked = await checkExample({ seed });
    for (const [id, count] of counts) count[resultOf(checked, id).reading] += 1;
  }
  if (process.env.TARELINE_TEST_TABLES === "1") console.info(table());
}, 600_000);

describe("clean surveys", () => {
  it("are read by every check there is", () => {
    expect(checks.length).toBeGreaterThanOrEqual(15);
    for (const count of counts.values()) {
      expect(count.expected + count.explain + count.doubt + count.unknown).toBe(surveyCount);
    }
  });

  it.each(checks.map((check) => check.id))("%s seldom finds fault with one", (id) => {
    const count = counts.get(id) as Counts;
    expect(count.unknown, table()).toBe(0);
    expect(count.doubt / surveyCount, table()).toBeLessThan(mostDoubt);
    expect((count.explain + count.doubt) / surveyCount, table()).toBeLessThan(mostNoticed);
  });
});
