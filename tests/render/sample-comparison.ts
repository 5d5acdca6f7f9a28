import { comparabilityOf } from "../../src/compare/comparability.js";
import { overviewOf } from "../../src/compare/overview.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import type { Block, Comparison, Difference } from "../../src/results/comparison.js";
import { notStated } from "../../src/results/group.js";
import type { Chart, Message, Reading } from "../../src/results/schema.js";
import { makeCell, makeEstimate, makeSummary } from "../compare/make-summary.js";
import { anyMessage as message } from "../results/any-message.js";

/**
 * A complete comparison of surveys that never took place: every number is invented. It has every section, every kind of chart
 * of a comparison, and as many places and rounds as a test asks for.
 */

/** Text of the sample alone. */
export const sampleWords = { "sample.text": "{text}" };
const say = (text: string): Message => message("sample.text", { text });

const overviewSettings = { tiles: null, estimates: null, rule: null, pairs: null, seasonNote: null };

const names = ["Abrune", "Belquar", "Cedrith", "Dolvane", "Emmoth and Upper Farquist", "Gwessal", "Hurnet"];
const placeName = (i: number): string => (i < names.length ? (names[i] ?? "") : `${names[i % 7]?.split(" ")[0]} ${i}`);
const days = ["2024-05-06", "2024-11-04", "2025-05-05", "2025-11-10"];

/** Numbers between 0 and 1 that look without order and are the same in every run. */
const noise = (i: number, j: number): number => (Math.abs(Math.sin(i * 12.9898 + j * 78.233)) * 43758.5453) % 1;

export function sampleSummaries(places: number, rounds: number, grouped = true): SurveySummary[] {
  return Array.from({ length: places * rounds }, (_, at) => {
    const place = Math.floor(at / rounds);
    const round = at % rounds;
    const value = 0.06 + 0.08 * noise(place, 1) + (place % 4 === 1 ? 0.05 : place % 4 === 2 ? -0.015 : 0.004) * round;
    const cell = makeCell(Math.max(value, 0.01), 0.012, { n: 400 + Math.round(500 * noise(place, round)) });
    return makeSummary(`place-${place}-round-${round}`, {
      place: placeName(place),
      round: `round ${round + 1}`,
      group: grouped ? (place % 2 === 0 ? "Upper Ossaline" : "Lower Ossaline") : null,
      firstDay: days[round] ?? null,
      lastDay: days[round]?.replace(/\d\d$/, "20") ?? null,
      children: cell.n,
      sha256: String(at).padStart(4, "0").repeat(16),
      estimates: [makeEstimate("wasting", cell)],
    });
  });
}

const wastingOf = (survey: SurveySummary) => survey.estimates.get("wasting")?.overall as ReturnType<typeof makeCell>;

/** Consecutive rounds of each place; a difference is clear from twice its standard error on. */
export function sampleDifferences(summaries: readonly SurveySummary[]): Difference[] {
  return summaries.flatMap((second, i): Difference[] => {
    const first = summaries[i - 1];
    if (first === undefined || first.place !== second.place) return [];
    const [a, b] = [wastingOf(first).value ?? 0, wastingOf(second).value ?? 0];
    const se = 0.017;
    const verdict = b - a > 2 * se ? "rise" : a - b > 2 * se ? "fall" : "no-clear-change";
    return [
      {
        pair: `${first.key}..${second.key}`,
        estimate: "wasting",
        rule: "fixed",
        first: a,
        second: b,
        difference: b - a,
        standardError: se,
        degreesOfFreedom: 58,
        interval: { low: b - a - 2 * se, high: b - a + 2 * se, level: 0.95 },
        probability: 0.01,
        adjustedProbability: 0.02,
        verdict,
        cautions: [],
        paired: { total: 19, stands: 17, movers: [] },
      },
    ];
  });
}

const readingAt = (i: number): Reading => (i % 9 === 4 ? "doubt" : i % 5 === 2 ? "explain" : "expected");

export function againstChanceChart(rows: number, panels = 1): Chart {
  return {
    kind: "against-chance",
    id: `digits-${rows}`,
    title: say("Digit preference of weight: every survey against chance"),
    alternative: say(`Digit preference of ${rows} surveys`),
    panels: Array.from({ length: panels }, (_, panel) => ({
      label: say(panel === 0 ? "Share of weights that end in 0 or 5" : "Share of heights that end in 0 or 5"),
      unit: "share" as const,
      rows: Array.from({ length: rows }, (_, i) => {
        const n = 150 + Math.round(800 * noise(i, 3));
        const half = 1.96 * Math.sqrt(0.16 / n);
        const reading = readingAt(i);
        const value =
          0.2 + (noise(i, 4) - 0.5) * half + (reading === "doubt" ? 0.12 : reading === "explain" ? 0.05 : 0);
        return {
          label: `${placeName(i)}, round 1`,
          n,
          value,
          low: value - half,
          high: value + half,
          expected: 0.2,
          chanceLow: 0.2 - half,
          chanceHigh: 0.2 + half,
          reading,
        };
      }),
    })),
  };
}

export function roundsChart(summaries: readonly SurveySummary[], differences: readonly Difference[]): Chart {
  const places = [...new Set(summaries.map((survey) => survey.place))];
  return {
    kind: "rounds",
    id: "rounds-wasting",
    title: say("Wasting from round to round, with 95% intervals"),
    alternative: say("Wasting rose clearly in some places"),
    y: { label: message("estimate.wasting"), unit: "share" },
    panels: places.map((place) => {
      const own = summaries.filter((survey) => survey.place === place);
      const last = differences.find((each) => each.pair.endsWith(`..${own.at(-1)?.key}`));
      return {
        label: place,
        emphasis: last !== undefined && last.verdict !== "no-clear-change",
        points: own.map((survey) => {
          const cell = wastingOf(survey);
          return {
            label: survey.round ?? "",
            day: survey.firstDay ?? "",
            value: cell.value ?? 0,
            low: cell.interval?.low ?? null,
            high: cell.interval?.high ?? null,
            n: cell.n,
          };
        }),
      };
    }),
  };
}

function block(id: string, finding: string, given: Partial<Block>): Block {
  return {
    id,
    title: say(`About ${id}`),
    finding: say(finding),
    meaning: [say("This is what it means, said in a plain sentence that a coordinator can read aloud.")],
    cautions: [],
    charts: [],
    tables: [],
    method: [say("Computed from the results of every survey, with its design.")],
    sources: [],
    ...given,
  };
}

export function sampleComparison(places = 12, rounds = 3): Comparison {
  const summaries = sampleSummaries(places, rounds);
  const differences = sampleDifferences(summaries);
  const levels: Chart = {
    kind: "intervals",
    id: "levels-wasting",
    title: say("Wasting in every place, last round"),
    alternative: say("Wasting by place"),
    x: { label: message("estimate.wasting"), unit: "share" },
    lines: [],
    rows: summaries
      .filter((survey) => survey.round === `round ${rounds}`)
      .map((survey) => {
        const { value, interval, n } = wastingOf(survey);
        return {
          of: notStated,
          label: survey.place,
          value,
          low: interval?.low ?? null,
          high: interval?.high ?? null,
          n,
        };
      }),
  };
  const section = (id: Comparison["sections"][number]["id"], heading: string, blocks: Block[]) => ({
    id,
    heading: say(heading),
    blocks,
  });
  return {
    format: "tareline-comparison",
    version: 1,
    tool: { name: "Tareline", version: "1.0.0" },
    madeOn: "2025-11-28",
    comparison: {
      name: "ossaline",
      title: "Districts of Ossaline, 2024 and 2025",
      language: "en",
      invented: true,
    },
    surveys: summaries.map((survey) => ({
      key: survey.key,
      title: survey.title,
      place: survey.place,
      round: survey.round,
      group: survey.group,
      firstDay: survey.firstDay,
      lastDay: survey.lastDay,
      children: survey.children,
      clusters: survey.clusters,
      populationSize: survey.populationSize,
      file: survey.file,
      sha256: survey.sha256,
      toolVersion: survey.toolVersion,
      formatVersion: survey.formatVersion,
    })),
    refused: [
      { file: "broken/results.json", reason: say("It is not JSON: it ends in the middle of a list.") },
      { file: "<b>odd</b>/results.json", reason: say("It is of a later format than this version reads.") },
    ],
    settings: { rule: null, surveys: [] },
    pairs: differences.map(({ pair }) => {
      const [first = "", second = ""] = pair.split("..");
      return { id: pair, question: "rounds" as const, first, second };
    }),
    differences,
    pairedScenarios: [],
    pooled: [],
    sections: [
      section("comparability", "All surveys are of children of 6 to 59 months; two things differ", [
        block("comparability", "The rounds were in different months", { cautions: [say("May is the lean season.")] }),
      ]),
      section("levels", "Wasting differs between places by more than chance", [
        block("levels-wasting", "Wasting ran from 6% to 15%", { charts: [levels], sources: ["study"] }),
      ]),
      section("changes", "Wasting rose clearly in three places", [
        block("changes-wasting", "Wasting rose clearly in three places", {
          charts: [roundsChart(summaries, differences)],
        }),
      ]),
      section("quality", "Weights end too often in 0 or 5 in some surveys", [
        block("quality-weight-digits", "Weights end too often in 0 or 5 in four surveys", {
          reading: "doubt",
          charts: [againstChanceChart(places * rounds)],
        }),
        block("quality-calm", "Ages are as expected", { reading: "expected", charts: [againstChanceChart(3, 2)] }),
      ]),
      section("teams", "No team returns with a finding", []),
      section(
        "overview",
        "Every place on one scale",
        overviewOf(summaries, differences, overviewSettings, comparabilityOf(summaries, overviewSettings)),
      ),
    ],
    story: {
      sentence: say(
        "Wasting rose clearly in three of twelve districts; in one of them the measuring could explain it, in two it could not.",
      ),
      paragraphs: [
        say(
          "The rise in Belquar, from 9.8% to 13.1%, stands in 17 of 19 paired scenarios; the months of the rounds differ.",
        ),
      ],
      findings: [
        { block: "quality-weight-digits", message: say("Weights end too often in 0 or 5 in four surveys.") },
        { block: "changes-wasting", message: say("Wasting rose clearly in Belquar, Gwessal and one more place.") },
        { block: "levels-wasting", message: say("Places differ by more than chance: from 6% to 15%.") },
      ],
      next: [
        say("Ask the teams of Belquar how weights were read, before the rise is reported."),
        say("Compare with the same months of an earlier year."),
      ],
      cautions: [
        say("Rounds in different months: a rise or fall may be the season’s."),
        say("No clear change does not mean no change."),
        say("Differences are between whole surveys: they name no cause."),
      ],
    },
    sources: [{ id: "study", reference: "Author A. A study of surveys. 2010.", status: "confirmed" }],
  };
}

/** The same with a story as long as one may become: more and longer sentences than the first page can hold. */
export function withLongStory(comparison: Comparison): Comparison {
  const long = (letters: number): Message =>
    say(
      `${"Belquar rose whatever is done to the measuring, but months and shares differ. ".repeat(9).slice(0, letters)}.`,
    );
  const several = (count: number, letters: number): Message[] => Array.from({ length: count }, () => long(letters));
  return {
    ...comparison,
    differences: comparison.differences.map((each) => ({
      ...each,
      estimate: "acute-malnutrition-by-arm-circumference",
    })),
    story: {
      sentence: long(260),
      paragraphs: [long(300), long(240)],
      findings: several(8, 190).map((each) => ({ block: "levels-wasting", message: each })),
      next: several(6, 180),
      cautions: several(9, 150),
    },
  };
}
