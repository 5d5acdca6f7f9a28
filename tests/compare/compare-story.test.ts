import { describe, expect, it } from "vitest";
import { comparisonHeading, tellComparison } from "../../src/compare/compare-story.js";
import type { StoryParts } from "../../src/compare/story-parts.js";
import { loadWords } from "../../src/render/words.js";
import type { Block, Difference, Pair } from "../../src/results/comparison.js";
import { comparisonSectionSchema } from "../../src/results/comparison.js";
import type { Message } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";
import { makeCell, makeEstimate, makeSummary } from "./make-summary.js";

const words = loadWords("en");
const survey = (key: string, place: string, firstDay: string, value: number, given = {}) =>
  makeSummary(key, {
    place,
    round: firstDay.slice(0, 7),
    firstDay,
    lastDay: firstDay,
    estimates: [makeEstimate("wasting", makeCell(value, 0.012)), makeEstimate("stunting", makeCell(0.3, 0.02))],
    ...given,
  });

function pair(first: string, second: string, question: Pair["question"] = "rounds"): Pair {
  return { id: `${first}..${second}`, question, first, second };
}

function difference(of: Pair, first: number, second: number, given: Partial<Difference> = {}): Difference {
  const change = second - first;
  return {
    pair: of.id,
    estimate: "wasting",
    rule: "fixed",
    first,
    second,
    difference: change,
    standardError: 0.017,
    degreesOfFreedom: 58,
    interval: { low: change - 0.034, high: change + 0.034, level: 0.95 },
    probability: 0.01,
    adjustedProbability: 0.02,
    verdict: "no-clear-change",
    cautions: [],
    ...given,
  };
}

function block(id: string, given: Partial<Block> = {}): Block {
  const none = { meaning: [], cautions: [], charts: [], tables: [], method: [], sources: [] };
  return { id, title: message("compare.rounds.title"), finding: message(`finding.${id}`), ...none, ...given };
}

function parts(given: Partial<StoryParts>): StoryParts {
  return {
    summaries: [],
    refused: [],
    pairs: [],
    differences: [],
    pooled: [],
    sections: [],
    estimates: ["wasting", "stunting"],
    rule: "fixed",
    seasonNote: null,
    ...given,
  };
}

const march = survey("y-march", "Yundeth", "2025-03-03", 0.098);
const october = survey("y-october", "Yundeth", "2025-10-06", 0.131);
const step = pair("y-march", "y-october");
const rise = difference(step, 0.098, 0.131, {
  verdict: "rise",
  paired: {
    ...{ total: 19, stands: 17, movers: ["digits/height", "missing/none-a-case"] },
    repaired: { difference: 0.018, interval: { low: -0.022, high: 0.057, level: 0.95 }, verdict: "no-clear-change" },
  },
});

/** Every id of a message and of the messages in its values. */
function idsOf(said: Message): string[] {
  const inner = Object.values(said.values).flat();
  return [said.id, ...inner.flatMap((value) => (typeof value === "object" && "id" in value ? idsOf(value) : []))];
}

describe("a survey whose design is not fully known", () => {
  it("is named among the cautions, and only there is one", () => {
    const open = survey("y-may", "Yundeth", "2025-05-05", 0.1, { definition: { designUnknown: ["no-clusters"] } });
    const caution = (summaries: StoryParts["summaries"]) =>
      tellComparison(parts({ summaries })).cautions.find(({ id }) => id === "compare.story.caution.design");
    expect(caution([march, october])).toBeUndefined();
    expect(words.text(caution([march, open]) ?? message("none"))).toContain("Yundeth");
  });
});

describe("one place seen twice", () => {
  const story = tellComparison(parts({ summaries: [march, october], pairs: [step], differences: [rise] }));

  it("names the rise with its numbers, and says that it is not established once the findings are put right", () => {
    expect(idsOf(story.sentence)).toEqual(
      expect.arrayContaining(["compare.story.one.rise", "compare.story.repaired.gone"]),
    );
    const text = words.text(story.sentence);
    for (const part of ["Yundeth", "9.8%", "13.1%", "+3.3", "+1.8"]) expect(text).toContain(part);
  });

  it("warns of the season, since March is not October, and not of places", () => {
    const ids = story.cautions.map(({ id }) => id);
    expect(ids).toContain("compare.story.caution.season");
    expect(ids).not.toContain("compare.story.caution.no-ranking");
    expect(ids).toContain("caution.not-a-diagnosis");
    expect(story.next.map(({ id }) => id)).toEqual(["compare.story.next.shaky", "compare.story.next.season"]);
    expect(story.next[0]?.values).toEqual({ place: "Yundeth" });
  });

  it.each([
    ["fall", "compare.story.one.fall"],
    ["no-clear-change", "compare.story.one.no-clear-change"],
    ["cannot-tell", "compare.story.one.cannot-tell"],
  ] as const)("%s has words of its own", (verdict, id) => {
    const own = tellComparison(
      parts({ summaries: [march, october], pairs: [step], differences: [{ ...rise, verdict }] }),
    );
    expect(idsOf(own.sentence)).toContain(id);
  });

  it.each([
    ["rise", "rise", "holds"],
    ["rise", "no-clear-change", "gone"],
    ["no-clear-change", "no-clear-change", "unclear"],
    ["no-clear-change", "fall", "appears"],
  ] as const)("published %s, put right %s: %s", (verdict, then, kind) => {
    const interval = { low: -0.02, high: 0.05, level: 0.95 };
    const repaired = { difference: 0.02, interval, verdict: then };
    const paired = { total: 3, stands: 2, movers: [], repaired };
    const own = tellComparison(
      parts({ summaries: [march, october], pairs: [step], differences: [{ ...rise, verdict, paired }] }),
    );
    expect(idsOf(own.sentence)).toContain(`compare.story.repaired.${kind}`);
    const without = { ...rise, verdict, paired: { ...paired, repaired: null } };
    const none = tellComparison(parts({ summaries: [march, october], pairs: [step], differences: [without] }));
    expect(idsOf(none.sentence)).toContain("compare.story.repaired.nothing");
  });

  it("rounds of the same month carry no caution on the season; what the settings say about it is told", () => {
    const next = survey("y-next", "Yundeth", "2026-03-02", 0.1);
    const ids = (seasonNote: string | null) =>
      tellComparison(parts({ summaries: [march, next], seasonNote })).cautions.map(({ id }) => id);
    expect(ids(null)).not.toContain("compare.story.caution.season");
    expect(ids("Late rains.")).toContain("compare.story.caution.season-note");
  });
});

describe("several places", () => {
  const rounds = ["A", "B", "C"].map((place) => [
    survey(`${place}1`, place, "2025-03-03", 0.1),
    survey(`${place}2`, place, "2025-10-06", 0.12),
  ]);
  const pairs = ["A", "B", "C"].map((place) => pair(`${place}1`, `${place}2`));
  const [a, b, c] = pairs as [Pair, Pair, Pair];
  const given = {
    summaries: rounds.flat(),
    pairs,
    differences: [
      difference(a, 0.1, 0.12),
      difference(b, 0.1, 0.15, { verdict: "rise", paired: { total: 5, stands: 5, movers: [] } }),
      difference(c, 0.15, 0.1, { verdict: "cannot-tell", interval: null, difference: null }),
    ],
  };

  it("counts what rose, what fell, what is not clear and what cannot be told", () => {
    const story = tellComparison(parts(given));
    const several = [story.sentence, ...Object.values(story.sentence.values).flat()].flatMap((value) =>
      typeof value === "object" && "id" in value ? [value, ...Object.values(value.values).flat()] : [],
    );
    const said = several.find(
      (value): value is Message =>
        typeof value === "object" && "id" in value && value.id === "compare.story.several.some",
    );
    expect(said?.values).toMatchObject({ places: 3, rose: 1, fell: 0, unclear: 1, unknown: 1, more: 0 });
    expect(story.cautions.map(({ id }) => id)).toContain("compare.story.caution.no-ranking");
    expect(story.paragraphs.map(({ id }) => id)).toContain("compare.story.cannot-tell");
  });

  it("of one round are told by their range and whether it is more than chance", () => {
    const summaries = [0.06, 0.09, 0.2].map((value, i) => survey(`p${i}`, `P${i}`, "2025-03-03", value));
    const heterogeneity = {
      q: 30,
      degreesOfFreedom: 2,
      probability: 0.000001,
      iSquared: 0.93,
      iSquaredInterval: null,
      tauSquared: 0.004,
      tauSquaredInterval: null,
    };
    const pooled = [
      { estimate: "wasting", round: "2025-03", surveys: ["p0", "p1", "p2"], combined: null, heterogeneity },
    ];
    const id = (probability: number) =>
      tellComparison(
        parts({ summaries, pooled: [{ ...pooled[0], heterogeneity: { ...heterogeneity, probability } }] as never }),
      ).sentence;
    expect(id(0.000001)).toMatchObject({ id: "compare.story.places.differ", values: { lowest: "P0", highest: "P2" } });
    expect(id(0.4).id).toBe("compare.story.places.alike");
    expect(tellComparison(parts({ summaries })).sentence.id).toBe("compare.story.places.unknown");
  });
});

describe("findings and headings", () => {
  const sections = [
    { id: "comparability" as const, blocks: [block("comparability")] },
    { id: "changes" as const, blocks: [block("changes-wasting"), block("changes-stunting")] },
    {
      id: "quality" as const,
      blocks: [block("quality-a", { reading: "explain" }), block("quality-b", { reading: "doubt" })],
    },
    { id: "teams" as const, blocks: [block("teams-followed", { reading: "expected" })] },
  ];
  const given = parts({ summaries: [march, october], pairs: [step], differences: [rise], sections });

  it("list the clear change first, then quality with the gravest first, and nothing that is as expected", () => {
    expect(tellComparison(given).findings.map((finding) => finding.block)).toEqual([
      "changes-wasting",
      "quality-b",
      "quality-a",
    ]);
  });

  it("every section has a heading in words, with and without findings", () => {
    for (const id of comparisonSectionSchema.options) {
      for (const told of [given, parts({ summaries: [march, october] })]) {
        expect(words.text(comparisonHeading(id, told)), id).not.toMatch(/compare\.story|\{/);
      }
    }
    expect(comparisonHeading("quality", given).values.count).toBe(2);
    expect(comparisonHeading("teams", given).id).toBe("compare.story.heading.teams.expected");
  });

  it("a team that returns with a finding is never headed as if none did, nor is one that cannot be told", () => {
    const heading = (given: Parameters<typeof block>[1]): string => {
      const blocks = [block("teams-followed", given)];
      return comparisonHeading("teams", parts({ summaries: [march], sections: [{ id: "teams", blocks }] })).id;
    };
    const returning = message("compare.teams.finding.returning", { followed: 3, teams: ["T1"], count: 1 });
    expect(heading({ finding: returning })).toBe("compare.story.heading.teams.concern");
    expect(heading({ reading: "unknown" })).toBe("section.compare-teams");
  });

  it("places of which none was set against another are not called without a clear difference", () => {
    expect(comparisonHeading("levels", given).id).toBe("compare.story.heading.levels.not-paired");
  });
});

describe("where nothing can be compared", () => {
  it("says so, and lists what was refused", () => {
    const bare = [makeSummary("a"), makeSummary("b")];
    const refused = [{ file: "c.json", reason: message("compare.refused.json") }];
    const story = tellComparison(parts({ summaries: bare, refused }));
    expect(story.sentence.id).toBe("compare.story.nothing");
    expect(story.paragraphs.map(({ id }) => id)).toEqual(["compare.story.refused"]);
    expect(story.next.map(({ id }) => id)).toEqual(["compare.story.next.refused"]);
  });
});
