import { readFileSync } from "node:fs";
import { comparableOf } from "../../src/compare/comparable.js";
import { plainSettings } from "../../src/compare/compare-settings.js";
import { readSurvey } from "../../src/compare/read-summary.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import { buildComparison } from "../../src/compare.js";
import { tellStory } from "../../src/interpret/story.js";
import { loadWords } from "../../src/render/words.js";
import type { Comparison } from "../../src/results/comparison.js";
import type { CheckResult, Message, Results } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";

const ids = Object.keys(JSON.parse(readFileSync("templates/locales/en.json", "utf8")) as object);
/** Findings that are told only where there is nothing to doubt. */
const harmless = /\.(expected|none|unknown)$/;

/** Values that make every finding of a check as long as it gets: six teams, three places, several groups. */
const crowded: Message["values"] = {
  teams: ["T1", "T2", "T3", "T4", "T5", "T6"],
  teamCount: 6,
  count: 6,
  more: 5,
  others: 10,
  strata: ["Ombrel", "Tazvin", "Yundeth"],
  placed: "yes",
  place: message("checks.age-heaping.place.stratum", { label: "Yundeth" }),
};

/** Of the messages that begin so, the longest in a language, with the check's own values. */
function longest(begin: string, check: CheckResult, language: string): Message | null {
  const words = loadWords(language);
  const said = ids
    .filter((id) => id.startsWith(begin) && !harmless.test(id))
    .map((id) => message(id, { ...check.finding.values, ...crowded }))
    .map((each) => ({ each, length: words.text(each).length, formed: !words.missing.has(each.id) }))
    .filter(({ formed }) => formed)
    .sort((a, b) => b.length - a.length);
  return said[0]?.each ?? null;
}

/** The longest thing that a finding may be said to do to an estimate. */
function longestConsequence(results: Results, language: string): Message {
  const words = loadWords(language);
  const labels = (results.consequence?.scenarios ?? []).map(({ label }) => label);
  const scenario = labels.sort((a, b) => words.text(b).length - words.text(a).length)[0] as Message;
  const [from, to] = [message("class.very-high"), message("class.medium")];
  const estimate = message("estimate.acute-malnutrition-combined");
  return message("consequence.check.moves", { estimate, direction: "down", value: 0.108, from, to, scenario });
}

/** The results with every check in doubt, each with the longest finding, consequence and action it has in a language. */
export function worstResults(results: Results, language: string): Results {
  const consequence = longestConsequence(results, language);
  const checks = results.checks.map((check): CheckResult => {
    const finding = longest(`checks.${check.id}.finding.`, check, language) ?? check.finding;
    const action = longest(`checks.${check.id}.action.`, check, language);
    return { ...check, reading: "doubt", finding, consequence, actions: action === null ? check.actions : [action] };
  });
  return { ...results, checks, story: tellStory({ ...results, checks }) };
}

/** The survey at a place and in a round, its estimates moved by a share in the second. */
function surveyAt(results: Results, at: number): SurveySummary {
  const round = at % 2;
  const shift = round * 0.12 + Math.floor(at / 2) * 0.01;
  const estimates = results.estimates.map((estimate) => {
    const { overall } = estimate;
    if (overall?.value == null || overall.interval === null || estimate.kind === "mean") return estimate;
    const interval = { ...overall.interval, low: overall.interval.low + shift, high: overall.interval.high + shift };
    return { ...estimate, byExclusion: [], overall: { ...overall, value: overall.value + shift, interval } };
  });
  const place = `Upper and Lower Ossaline ${Math.floor(at / 2) + 1}`;
  const survey = { ...results.survey, name: `survey-${at}`, firstDay: `2024-0${3 + round * 5}-07` };
  const moved = { ...results, survey, estimates };
  const raw = JSON.parse(JSON.stringify({ ...moved, comparable: comparableOf(moved) })) as unknown;
  const facts = { place, round: `round ${round + 1}`, group: null, population: null, clustersRevisited: false };
  const made = readSurvey(raw, { ...facts, file: `survey-${at}/results.json`, sha256: String(at).padStart(64, "0") });
  if ("refused" in made) throw new Error(`The survey was refused: ${made.refused.id}.`);
  return { ...made.summary, key: `survey-${at}` };
}

/** Six places in two rounds, every check of every survey in doubt, nearly everything changed, a file refused. */
export function worstComparison(results: Results, language: string): Comparison {
  const summaries = Array.from({ length: 12 }, (_, at) => surveyAt(results, at));
  const settings = plainSettings(
    summaries.map(({ file }) => file),
    { name: "ossaline", title: "Six districts of Ossaline, two rounds in 2024 (invented data)", language },
  );
  const refused = [{ file: "seventh-district/results.json", reason: message("compare.refused.format") }];
  return buildComparison({ summaries, refused, settings, date: null, version: "1.0.0" });
}
