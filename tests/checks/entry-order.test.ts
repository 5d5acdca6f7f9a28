import { describe, expect, it } from "vitest";
import { fewestMinutes } from "../../src/checks/entry-order/entry-times.js";
import { entryOrder } from "../../src/checks/entry-order/index.js";
import { runCheck } from "../../src/checks/run.js";
import type { Children } from "../../src/derive/children.js";
import { derive } from "../../src/derive/derive.js";
import { loadWords } from "../../src/render/words.js";
import { checkResultSchema } from "../../src/results/schema.js";
import { randomStream } from "../../src/stats/random.js";
import { children as sixChildren, surveyOf } from "../columns/make-table.js";
import { cleanSurvey } from "./clean-survey.js";
import { makeChildren, makeSettings } from "./make-children.js";
import { messagesIn, notFinite } from "./who-checks.js";

const columns = { "entry-time": "start", "interview-date": "day" };
const run = (children: Children, of: Readonly<Record<string, string>> = columns) => {
  const { result, rows } = runCheck(entryOrder, children, makeSettings({ columns: of }));
  return { result: checkResultSchema.parse(result), rows };
};
const share = ({ result }: ReturnType<typeof run>, kind: string): number | null | undefined =>
  result.quantities.find(({ id }) => id === `entry-${kind}`)?.value;

const minute = 1 / 1440;
const firstDay = 20_000;

/** Teams of 20 children a day, one form a child, 15 minutes apart from eight o'clock on; `change` moves single forms. */
function fieldwork(
  change: (time: number, i: number) => number = (time) => time,
  more: Partial<Children> = {},
): Children {
  const day = (i: number): number => firstDay + Math.floor(i / 60);
  const base = makeChildren({
    count: 300,
    team: (i) => `T${(i % 3) + 1}`,
    cluster: (i) => `C${day(i) - firstDay}-${i % 3}`,
    interviewDay: day,
  });
  const entryTime = Float64Array.from({ length: 300 }, (_, i) =>
    change(day(i) + 8 / 24 + 15 * minute * Math.floor((i % 60) / 3), i),
  );
  return { ...base, entryTime, ...more };
}

describe("entry-order", () => {
  it("finds nothing in forms that follow each other by day", () => {
    const found = run(fieldwork());
    expect(found.result.reading).toBe("expected");
    // Of 300 forms the first of each team on each of five days follows none.
    expect(found.result.quantities.map(({ id, n, value }) => [id, n, value])).toEqual([
      ["entry-quick", 285, 0],
      ["entry-hours", 300, 0],
      ["entry-days", 300, 0],
    ]);
    expect([found.rows, found.result.causes]).toEqual([[], []]);
  });

  it("counts and lists forms that follow another of their team too soon for a child to be measured", () => {
    // Every second form of team T1 but its first, ten minutes later than its own: five minutes before the next.
    const close = fieldwork((time, i) => (i % 6 === 0 && i % 60 > 0 ? time + 13 * minute : time));
    const found = run(close);
    // On each of five days nine forms (the 3rd, 5th ... 19th of twenty) are followed by one two minutes later.
    expect(share(found, "quick")).toBeCloseTo(45 / 285, 12);
    expect(found.result.reading).toBe("explain");
    expect(found.result.finding.id).toBe("checks.entry-order.finding.quick");
    expect(found.result.groups.filter(({ reading }) => reading === "explain").map(({ label }) => label)).toEqual([
      "T1",
    ]);
    expect(found.rows).toHaveLength(45);
    const listed = new Set(found.rows.map(({ sheetRow }) => sheetRow));
    for (let i = 0; i < 300; i++) {
      expect(listed.has(close.sheetRow[i] as number), String(i)).toBe(i % 6 === 3 && i % 3 === 0 && i % 60 > 3);
    }
    expect(found.rows[0]).toMatchObject({ columns: ["start"], message: { id: "checks.entry-order.row" } });
    expect(found.rows[0]?.message.values.minutes).toBeCloseTo(2, 6);
    const all = run(fieldwork((time, i) => Math.floor(time) + 9 / 24 + 2 * minute * Math.floor((i % 60) / 3)));
    expect([all.result.reading, share(all, "quick")]).toEqual(["doubt", 1]);
  });

  it("takes exactly the fewest minutes for enough, and forms of two teams at once for none", () => {
    const tight = (gap: number) =>
      run(fieldwork((time, i) => Math.floor(time) + 9 / 24 + gap * minute * Math.floor((i % 60) / 3)));
    expect(share(tight(fewestMinutes), "quick")).toBe(0);
    expect(share(tight(fewestMinutes - 0.1), "quick")).toBe(1);
  });

  it("takes children with one time for one form, which needs the time of as many", () => {
    // Homes of two children; the next form comes five minutes later: enough for one child, not for two.
    const pairs = (gap: number) =>
      run(fieldwork((time, i) => Math.floor(time) + 9 / 24 + gap * minute * Math.floor((i % 60) / 6)));
    expect(pairs(5).result.quantities[0]).toMatchObject({ id: "entry-quick", n: 135, value: 1 });
    expect(share(pairs(6.5), "quick")).toBe(0);
  });

  it("counts forms at night, and never doubts for them alone", () => {
    const night = run(fieldwork((time, i) => (i % 60 < 24 ? time + 13 / 24 : time)));
    // 24 of 60 forms of a day, moved from 8:00-9:45 to 21:00-22:45.
    expect(share(night, "hours")).toBeCloseTo(0.4, 12);
    expect(night.result.reading).toBe("explain");
    expect(night.result.finding.id).toBe("checks.entry-order.finding.hours");
    expect(share(run(fieldwork((time) => time + 15 / 24)), "hours")).toBe(1);
  });

  it("counts forms of another day, those before the interview apart, and asks of them no minutes", () => {
    const later = run(fieldwork((time, i) => (i % 3 === 0 ? time + 1 : i % 60 === 1 ? time - 2 : time)));
    expect(share(later, "days")).toBeCloseTo(105 / 300, 12);
    const said = later.result.meaning.find(({ id }) => id === "checks.entry-order.meaning.days");
    expect(said?.values).toMatchObject({ cases: 105, n: 300, early: 5 });
    expect(later.result.finding.id).toBe("checks.entry-order.finding.days");
    // Typed in from paper within seconds on the next day: only the day is unusual.
    const typed = run(fieldwork((time, i) => Math.floor(time) + 1 + 10 / 24 + (i % 60) * 0.2 * minute));
    expect([share(typed, "days"), share(typed, "quick"), typed.result.reading]).toEqual([1, undefined, "explain"]);
  });

  it("says nothing of hours and order where the times are those of sending", () => {
    const sent = { "entry-time": "_submission_time", "interview-date": "day" };
    const found = run(
      fieldwork((time) => Math.floor(time) + 23 / 24),
      sent,
    );
    expect(found.result.quantities.map(({ id }) => id)).toEqual(["entry-days"]);
    expect(found.result.reading).toBe("expected");
    expect(found.result.meaning.map(({ id }) => id)).toContain("checks.entry-order.meaning.sent");
    const alone = run(fieldwork(), { "entry-time": "_submission_time" });
    expect([alone.result.reading, alone.result.reason?.id]).toEqual(["unknown", "checks.entry-order.only-sent"]);
  });

  it("says what it could not look at: no team, no day of the interview", () => {
    const found = run(fieldwork(undefined, { team: null }), { "entry-time": "start" });
    expect(found.result.quantities.map(({ id }) => id)).toEqual(["entry-hours"]);
    const said = found.result.meaning.map(({ id }) => id);
    expect(said).toContain("checks.entry-order.meaning.no-team");
    expect(said).toContain("checks.entry-order.meaning.no-day");
  });

  it("cannot tell without times, or with few", () => {
    const none = run(makeChildren({ count: 300 }));
    expect([none.result.reading, none.result.reason?.id]).toEqual(["unknown", "checks.unknown.needs"]);
    const few = run(fieldwork((time, i) => (i < 20 ? time : Number.NaN)));
    expect([few.result.reading, few.result.reason?.id]).toEqual(["unknown", "checks.entry-order.too-few"]);
  });

  it("has words in every language, and no number that is not finite", () => {
    const found = run(fieldwork((time, i) => (i % 3 === 0 ? Math.floor(time) + 22 / 24 + i * 0.01 * minute : time)));
    expect(found.result.reading).not.toBe("expected");
    expect(notFinite(found.result)).toEqual([]);
    for (const language of ["en", "fr", "es", "pt", "ar"] as const) {
      const words = loadWords(language);
      for (const one of messagesIn([found.result, found.rows])) {
        expect(words.text(one), `${language} ${one.id}`).not.toMatch(/\[\[|undefined|NaN|[{}]/);
      }
    }
  });
});

describe("entry-order on surveys without faults", () => {
  /** Teams with calm and hurried days: 8 to 45 minutes a form, a break at noon, one form in a hundred written in the evening or the next morning. */
  function timed(seed: number): Children {
    const children = cleanSurvey({ seed });
    const random = randomStream(seed + 1000);
    const clock = new Map<string, number>();
    const entryTime = Float64Array.from({ length: children.count }, (_, i) => {
      const day = children.interviewDay?.[i] as number;
      const key = `${day} ${children.team?.codes[i]}`;
      const before = clock.get(key) ?? 7 + random.uniform() * 2;
      const time = before + (8 + 37 * random.uniform()) / 60 + (before < 12 && before > 11.5 ? 0.7 : 0);
      clock.set(key, time);
      const late = random.uniform();
      return day + (late < 0.005 ? 20.5 : late < 0.01 ? 31 : time) / 24;
    });
    return { ...children, entryTime };
  }

  it("seldom asks for an explanation and never doubts", () => {
    const readings = Array.from({ length: 200 }, (_, i) => run(timed(i + 1)).result.reading);
    expect(readings.filter((reading) => reading === "unknown")).toEqual([]);
    expect(readings.filter((reading) => reading === "doubt")).toEqual([]);
    expect(readings.filter((reading) => reading !== "expected").length / 200).toBeLessThan(0.05);
  });
});

describe("times in a file", () => {
  it("reach the check, whatever zone stands behind them", async () => {
    const repeated = Object.fromEntries(
      Object.entries(sixChildren).map(([name, cells]) => [
        name,
        Array.from({ length: 60 }, (_, i) => cells[i % 6] ?? ""),
      ]),
    );
    const start = Array.from({ length: 60 }, (_, i) => {
      const day = sixChildren["interview date"]?.[i % 6];
      return `${day}T${String(8 + Math.floor(i / 6)).padStart(2, "0")}:${i % 2 === 0 ? "05" : "35"}:00.000+05:45`;
    });
    const survey = await surveyOf({ ...repeated, start });
    const { children } = derive(survey);
    const { result } = runCheck(entryOrder, children, survey.settings);
    expect(result.reading).toBe("expected");
    // Two teams, each on two days: the first form of each of the four follows none.
    expect(result.quantities.map(({ id, n }) => [id, n])).toEqual([
      ["entry-quick", 56],
      ["entry-hours", 60],
      ["entry-days", 60],
    ]);
  });
});
