import { z } from "zod";
import { message } from "../results/message.js";
import { placeInJson } from "../results/place-in-json.js";
import { type Comparable, comparableSchema, type Message, resultsSchema } from "../results/schema.js";
import { currentVersion, isMapping, type Json, knownVersions, migrated } from "./migrate.js";
import type { SummaryCheck, SummaryEstimate, SummaryOutcome, SummaryScenario, SurveySummary } from "./summary.js";

/** What is known of a survey beside its results: from the settings of the comparison and from the file itself. */
export interface SurveyFacts {
  /** As it was named, without the folders of the machine above the comparison's own. */
  readonly file: string;
  /** Of the results file. */
  readonly sha256: string;
  readonly place: string | null;
  readonly round: string | null;
  readonly group: string | null;
  readonly population: number | null;
  readonly clustersRevisited: boolean;
}

export interface Refused {
  readonly refused: Message;
}

/** A summary with the checksum of the data it was computed from, by which the same survey is known again. */
export interface ReadSurvey {
  readonly summary: SurveySummary;
  readonly dataSha256: string;
}

const byId = <T extends { readonly id: string }>(all: readonly T[]): ReadonlyMap<string, T> =>
  new Map(all.map((one) => [one.id, one]));

function estimateOf({ reason, byExclusion, ...rest }: Comparable["estimates"][number]): SummaryEstimate {
  return { ...rest, reason: reason ?? null, byExclusion: new Map(byExclusion.map(({ rule, cell }) => [rule, cell])) };
}

function checkOf({ reason, ...rest }: Comparable["checks"][number]): SummaryCheck {
  return { ...rest, reason: reason ?? null };
}

function scenarioOf({ reason, outcomes, ...rest }: Comparable["scenarios"][number]): SummaryScenario {
  const entries = outcomes.map(({ estimate, ...outcome }): [string, SummaryOutcome] => [estimate, outcome]);
  return { ...rest, reason: reason ?? null, outcomes: new Map(entries) };
}

function placeOf({ survey }: Comparable, facts: SurveyFacts): string {
  if (facts.place !== null) return facts.place;
  return survey.population.trim() === "" ? survey.title : survey.population.trim();
}

/** Of the file beside the section for comparisons. */
interface FileVersion {
  readonly format: number;
  readonly tool: string;
}

function summaryFrom(comparable: Comparable, version: FileVersion, facts: SurveyFacts): SurveySummary {
  const { survey, definition, children, clusters, strata, checks, estimates, scenarios } = comparable;
  return {
    key: survey.name,
    file: facts.file,
    sha256: facts.sha256,
    title: survey.title,
    population: survey.population,
    invented: survey.invented,
    place: placeOf(comparable, facts),
    round: facts.round ?? survey.firstDay?.slice(0, 7) ?? null,
    group: facts.group,
    populationSize: facts.population,
    clustersRevisited: facts.clustersRevisited,
    firstDay: survey.firstDay,
    lastDay: survey.lastDay,
    toolVersion: version.tool,
    formatVersion: version.format,
    definition: { ...definition, designUnknown: definition.designUnknown ?? [] },
    children,
    clusters,
    strata,
    estimates: byId(estimates.map(estimateOf)),
    checks: byId(checks.map(checkOf)),
    scenarios: scenarios.map(scenarioOf),
  };
}

function refusedFormat(raw: Json): Message | null {
  if (raw.format === "tareline-comparison") return message("compare.refused.comparison");
  if (raw.format !== "tareline-results") return message("compare.refused.format");
  const { version } = raw;
  if (typeof version === "number" && knownVersions.includes(version)) return null;
  const written = typeof version === "number" || typeof version === "string" ? String(version) : "?";
  return message("compare.refused.version", { version: written, newest: currentVersion });
}

/** What is read of a results.json: everything else is passed over unread. */
const comparedFileSchema = z.object({
  tool: z.object({ version: z.string() }),
  comparable: comparableSchema,
});

/**
 * What a comparison needs of one results.json, after an older version was brought up to date; or why the file cannot be
 * used. Only its section for comparisons is checked: the rest of the file is drawn by nobody here.
 */
export function readSurvey(raw: unknown, facts: SurveyFacts): ReadSurvey | Refused {
  if (!isMapping(raw)) return { refused: message("compare.refused.format") };
  const wrong = refusedFormat(raw);
  if (wrong !== null) return { refused: wrong };
  const current = migrated(raw);
  const parsed = comparedFileSchema.safeParse(current);
  if (!parsed.success) {
    // An earlier version has no such section when the parts that it is gathered from are damaged: they are named.
    const { error } = raw.version === currentVersion ? parsed : resultsSchema.safeParse(current);
    const where = placeInJson((error ?? parsed.error).issues[0]?.path ?? [], " > ");
    return { refused: message("compare.refused.part", { where }) };
  }
  const { comparable, tool } = parsed.data;
  const summary = summaryFrom(comparable, { format: Number(raw.version), tool: tool.version }, facts);
  return { summary, dataSha256: comparable.dataSha256 };
}

export interface ChosenSurveys {
  readonly summaries: readonly SurveySummary[];
  readonly refused: readonly { readonly file: string; readonly reason: Message }[];
}

/** A key nobody has yet: the name itself, else with the next number that is free. */
function freeKey(name: string, taken: ReadonlySet<string>): string {
  let key = name;
  for (let number = 2; taken.has(key); number++) key = `${name}-${number}`;
  return key;
}

/**
 * The surveys to compare, in the order given: results computed from the same data as an earlier one are refused, since the
 * same children would be counted twice; surveys that share a name get keys with numbers.
 */
export function chooseSurveys(read: readonly (ReadSurvey | (Refused & { readonly file: string }))[]): ChosenSurveys {
  const summaries: SurveySummary[] = [];
  const refused: { file: string; reason: Message }[] = [];
  const fileOfData = new Map<string, string>();
  const taken = new Set<string>();
  for (const one of read) {
    if ("refused" in one) {
      refused.push({ file: one.file, reason: one.refused });
      continue;
    }
    const { summary, dataSha256 } = one;
    const earlier = fileOfData.get(dataSha256);
    if (earlier !== undefined) {
      refused.push({ file: summary.file, reason: message("compare.refused.same-data", { other: earlier }) });
      continue;
    }
    fileOfData.set(dataSha256, summary.file);
    const key = freeKey(summary.key, taken);
    taken.add(key);
    summaries.push({ ...summary, key });
  }
  return { summaries, refused };
}
