import { describe, expect, it } from "vitest";
import { claimsOf, limitsOf } from "../../../src/consequence/claims/claims.js";
import { hundredths } from "../../../src/consequence/claims/in-hundred.js";
import { answerHeading, answerSentence } from "../../../src/consequence/claims/sentences.js";
import { wasting2019 } from "../../../src/estimates/classes.js";
import { notStated } from "../../../src/results/group.js";
import type { Answer, Message, RepairResult } from "../../../src/results/schema.js";
import { chanceAtOrAbove } from "../../../src/stats/chance-above.js";

const limits = wasting2019.classes.map(({ id, from }) => ({ class: id, from }));

function answer(value: number, standardError: number, more: Partial<Answer> = {}): Answer {
  return {
    ...{ estimate: "wasting", of: notStated, value, standardError, degreesOfFreedom: 34, n: 890 },
    ...{ low: value - 2 * standardError, high: value + 2 * standardError, limits, scheme: "who-unicef-2019" },
    ...{ repaired: null, draws: null },
    ...more,
  };
}

const drawn = (values: readonly number[], error: number): Pick<Answer, "draws" | "repaired"> => ({
  draws: {
    ...{ of: notStated, value: [...values], standardError: values.map(() => error), degreesOfFreedom: 34, n: 890 },
  },
  repaired: { low: 0.05, high: 0.15 },
});

const repair = (id: string, shift: number): RepairResult => ({
  ...{ id, label: { id: `label.${id}`, values: {} }, checks: [], team: null, chance: null },
  outcomes: [{ estimate: "wasting", of: notStated, shift, shiftInErrors: shift / 0.0148 }],
});

const claimAt = (given: Answer, limit: number, repairs: readonly RepairResult[] = []) =>
  claimsOf([given], repairs, []).find((claim) => claim.limit === limit);

describe("limits", () => {
  it("are those of the classes within 0.9 on the logit scale, and the reader's own", () => {
    const near = answer(0.098, 0.0148);
    expect(limitsOf(near, []).map(({ limit }) => limit)).toEqual([0.05, 0.1, 0.15]);
    const asked = limitsOf(near, [
      { estimate: "wasting", limit: 0.08, about: "a blanket distribution" },
      { estimate: "wasting", limit: 0.1, about: "" },
      { estimate: "stunting", limit: 0.3, about: "" },
    ]);
    expect(asked.map(({ limit, asked: own }) => [limit, own])).toEqual([
      [0.05, false],
      [0.08, true],
      [0.1, true],
      [0.15, false],
    ]);
  });

  it("are the nearest ones where none is near, and none without classes", () => {
    expect(limitsOf(answer(0.006, 0.002), []).map(({ limit }) => limit)).toEqual([0.025]);
    expect(limitsOf(answer(0.5, 0.03), []).map(({ limit }) => limit)).toEqual([0.15]);
    expect(limitsOf(answer(0.1, 0.02, { limits: [] }), [])).toEqual([]);
  });
});

describe("claims", () => {
  const given = answer(0.098, 0.0148);

  it("can be said from 95 in 100 on, and are left open by the sample below", () => {
    expect(claimAt(given, 0.05)).toMatchObject({ state: "can-be-said", side: "above", repair: null });
    expect(claimAt(given, 0.15)).toMatchObject({ state: "can-be-said", side: "below" });
    const open = claimAt(given, 0.1);
    expect(open).toMatchObject({ state: "open-sample", side: "below", measuringToo: false, simulationError: 0 });
    expect(open?.byChance).toBe(
      chanceAtOrAbove({ ...given, estimate: 0.098, standardError: 0.0148, degreesOfFreedom: 34 }, 0.1),
    );
    expect(open?.repaired).toBe(open?.byChance);
  });

  it("are left open by the measuring where chance alone would settle them", () => {
    const moved = answer(0.13, 0.0148, drawn([0.13, 0.1, 0.1, 0.1], 0.0148));
    expect(claimAt(moved, 0.1, [repair("instrument/T2", -0.022), repair("digits/height", 0.03)])).toMatchObject({
      state: "open-measuring",
      side: "above",
      repair: "instrument/T2",
    });
  });

  it("that the repairs put on the other side for certain are no claims either", () => {
    const moved = answer(0.14, 0.012, drawn([0.06, 0.06], 0.008));
    expect(claimAt(moved, 0.1)).toMatchObject({ state: "open-measuring", side: "below" });
  });

  it("name the measuring beside the sample where it moves the chance by more than 10 in 100", () => {
    const moved = answer(0.098, 0.0148, drawn([0.11, 0.112, 0.108], 0.0148));
    expect(claimAt(moved, 0.1, [repair("instrument/T2", 0.012)])).toMatchObject({
      state: "open-sample",
      side: "above",
      measuringToo: true,
      repair: "instrument/T2",
    });
    expect(claimAt(moved, 0.1)?.simulationError).toBeGreaterThan(0);
  });

  it("tell the margin in children where it is a few", () => {
    expect(claimAt(given, 0.1)?.children).toBe(2);
    expect(claimAt(given, 0.05)?.children).toBeNull();
    expect(claimAt(answer(0.1, 0.0148), 0.1)?.children).toBe(1);
  });

  it("cannot be told where there is no interval", () => {
    expect(claimAt(answer(0.098, 0.0148, { standardError: null, degreesOfFreedom: null }), 0.1)).toMatchObject({
      ...{ state: "unknown", byChance: null, repaired: null },
    });
  });
});

describe("chances in words", () => {
  it("are never above 99 nor below 1 in 100", () => {
    expect([0, 0.004, 0.444, 0.996, 1].map(hundredths)).toEqual([1, 1, 44, 99, 99]);
  });

  const ids = (said: Message): string[] =>
    said.id === "claims.sentences"
      ? [said.values.first, said.values.second].flatMap((one) => ids(one as Message))
      : [said.id];

  it("say what to quote, what can be said and what is left open, in that order", () => {
    const given = answer(0.098, 0.0148, drawn([0.098, 0.099], 0.0148));
    const repairs = [repair("digits/height", 0.0005)];
    const claims = claimsOf([given], repairs, [{ estimate: "wasting", limit: 0.09, about: "an appeal" }]);
    const said = answerSentence(given, { claims, repairs });
    expect(ids(said)).toEqual([
      "claims.quote",
      "claims.said.between",
      "claims.open.sample",
      "claims.about",
      "claims.open.sample",
      "claims.children",
    ]);
    expect(answerHeading(given, claims).values).toMatchObject({ said: "both", above: 0.05, below: 0.15, open: 2 });
  });
});
