import { checks } from "./checks/index.js";
import { runCheck } from "./checks/run.js";
import { gapMessage } from "./checks/shared/gap-words.js";
import type { CodedGroup } from "./columns/label-codes.js";
import type { Survey } from "./columns/survey.js";
import { comparableOf } from "./compare/comparable.js";
import { linkChecks } from "./consequence/link.js";
import { computeConsequence, tellConsequence } from "./consequence/run.js";
import { type Children, type IndexId, indexIds, noScoreReasons } from "./derive/children.js";
import { derive } from "./derive/derive.js";
import { designOf } from "./derive/design.js";
import { designShown } from "./derive/design-gaps.js";
import { fixedLimits } from "./derive/exclusions.js";
import { impossibleScores } from "./derive/impossible-scores.js";
import { populationProblems } from "./derive/population.js";
import { inOrderOfContent } from "./derive/row-order.js";
import { describe } from "./describe/describe.js";
import { bookOf } from "./disclosure/book.js";
import { groupsIn, publishable } from "./disclosure/publish.js";
import { estimates } from "./estimates/index.js";
import { runEstimate } from "./estimates/run.js";
import { unreadNotes } from "./estimates/unread-columns.js";
import { tellStory, type Unread } from "./interpret/story.js";
import type { TextTable } from "./read/table.js";
import type { CodeForTeam, RowForFollowUp } from "./results/internal-lists.js";
import { message } from "./results/message.js";
import type { Chart, Results } from "./results/schema.js";
import { sources } from "./results/sources.js";
import { codeList, rowList, rowsLeftOut, rowsSetAside } from "./row-list.js";
import { InputError } from "./settings/problems.js";
import type { SurveyFile } from "./settings/survey-file.js";

export interface ReportInput {
  readonly table: TextTable;
  /** The settings file, or null when the columns are to be found from the data. */
  readonly surveyFile: SurveyFile | null;
  /** SHA-256 of the settings file's bytes, or null. */
  readonly settingsSha256: string | null;
  /** The list of clusters that the settings name. */
  readonly clusterList?: TextTable | null;
  /** Groups whose labels are replaced by codes, beside those that the settings name. */
  readonly codes?: readonly CodedGroup[];
  /** ISO day the report carries; null takes the last interview day. */
  readonly date: string | null;
  /** Days since 1970: later dates in the data are refused. Not checked where absent. */
  readonly today?: number | undefined;
  readonly version: string;
  /** Told the name of each stage as it begins. */
  readonly onStage?: (stage: string) => void;
  /** Given the charts of the checks, which can be drawn while the rest is computed. */
  readonly onCharts?: (charts: readonly Chart[]) => void;
}

export interface ReportOutput {
  readonly results: Results;
  /** Rows for the survey team, outside the report. */
  readonly rows: readonly RowForFollowUp[];
  /** Which label each code stands for: for the survey team, outside the report. */
  readonly codes: readonly CodeForTeam[];
  readonly survey: Survey;
}

const millisecondsADay = 86_400_000;
const isoDay = (day: number): string => new Date(day * millisecondsADay).toISOString().slice(0, 10);

function dayRange(days: Float64Array | null): { first: number; last: number; distinct: number } | null {
  if (days === null) return null;
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  const distinct = new Set<number>();
  for (const day of days) {
    if (Number.isNaN(day)) continue;
    if (day < first) first = day;
    if (day > last) last = day;
    distinct.add(day);
  }
  return distinct.size === 0 ? null : { first, last, distinct: distinct.size };
}

function count(codes: ArrayLike<number>, wanted: number): number {
  let total = 0;
  for (let i = 0; i < codes.length; i++) if (codes[i] === wanted) total += 1;
  return total;
}

/** Indices whose measures the survey took at all: one that nobody set out to measure is not 'missing'. */
function measuredIndices({ weight, height, arm, head }: Children): readonly IndexId[] {
  const taken: Readonly<Record<IndexId, boolean>> = {
    "weight-for-height": weight !== null && height !== null,
    "height-for-age": height !== null,
    "weight-for-age": weight !== null,
    "bmi-for-age": weight !== null && height !== null,
    "arm-for-age": arm !== null,
    "head-for-age": head !== null,
  };
  return indexIds.filter((index) => taken[index]);
}

function scoresOf(children: Children, width: number): Results["children"]["scores"] {
  return measuredIndices(children).map((index) => {
    const column = children.indices[index];
    const centre = Number.isNaN(column.centre) ? null : column.centre;
    const missing = noScoreReasons
      .map((reason, code) => ({ reason: reason as string, count: code === 0 ? 0 : count(column.why, code) }))
      .filter((entry) => entry.count > 0);
    return {
      index,
      computed: count(column.why, 0),
      outsideFixed: count(column.outsideFixed, 1),
      outsideAroundMean: count(column.outsideAroundMean, 1),
      centre,
      fixedLimits: fixedLimits[index],
      aroundMeanLimits: centre === null ? null : { low: centre - width, high: centre + width },
      missing,
    };
  });
}

function childrenOf(children: Children, width: number): Results["children"] {
  return {
    total: children.count,
    boys: count(children.sex, 1),
    girls: count(children.sex, 2),
    sexUnknown: count(children.sex, 0),
    ageUnknown: count(children.ageSource, 0),
    ageFromMonths: count(children.ageSource, 2),
    oedema: children.oedema === null ? null : count(children.oedema, 1),
    scores: scoresOf(children, width),
  };
}

function designResult(children: Children, survey: Survey): Results["design"] {
  const design = designOf(children, survey.settings);
  const clustersIn = new Int32Array(design.stratumCount);
  const stratumOfCluster = new Int32Array(design.clusterCount).fill(-1);
  for (let i = 0; i < design.count; i++) stratumOfCluster[design.cluster[i] ?? 0] = design.stratum[i] ?? 0;
  for (const stratum of stratumOfCluster) if (stratum >= 0) clustersIn[stratum] = (clustersIn[stratum] ?? 0) + 1;
  return {
    clusters: children.cluster === null ? null : design.clusterCount,
    strata: design.stratumCount,
    weighted: children.samplingWeight !== null,
    finitePopulationCorrection: design.clustersInPopulation !== null,
    degreesOfFreedom: design.clusterCount - design.stratumCount,
    singleClusterStrata: clustersIn.reduce((sum, clusters) => sum + (clusters === 1 ? 1 : 0), 0),
    teams: children.team === null ? null : children.team.labels.length,
    days: dayRange(children.interviewDay)?.distinct ?? null,
    unknown: designShown(children, survey.settings).gaps.map((gap) => ({ id: gap.id, message: gapMessage(gap) })),
  };
}

function citedSources(results: Pick<Results, "checks" | "estimates" | "consequence">): Results["sources"] {
  const cited = new Set(["who-2006", "who-2007"]);
  for (const part of [...results.checks, ...results.estimates]) for (const id of part.sources) cited.add(id);
  for (const id of results.consequence?.sources ?? []) cited.add(id);
  return [...cited].map((id) => {
    const source = sources.get(id);
    if (source === undefined) throw new Error(`The source '${id}' is cited but not listed in results/sources.ts.`);
    return source;
  });
}

/**
 * The whole program between reading and drawing: a table of text in, the results out. Pure: no disk, no clock, no
 * browser. Throws InputError when the data or settings need a change.
 */
export function buildReport(input: ReportInput): ReportOutput {
  const stage = input.onStage ?? (() => {});
  stage("describe");
  const described = describe(input.table, input.surveyFile, {
    clusterList: input.clusterList ?? null,
    codes: input.codes ?? [],
    ...(input.today === undefined ? {} : { today: input.today }),
  });
  const settings = described.settings;
  stage("derive");
  const survey = inOrderOfContent(described);
  const derived = derive(survey);
  const children = derived.children;
  const doubts = [
    ...populationProblems(children, settings, input.surveyFile),
    ...impossibleScores(children, input.table.file),
  ];
  if (doubts.length > 0) throw new InputError(doubts);
  stage("check");
  const runs = checks.map((check) => runCheck(check, children, settings));
  input.onCharts?.(runs.flatMap(({ result }) => result.charts));
  stage("estimate");
  // Head circumference is rarely taken: where it was not, its absence is no finding.
  const wanted = estimates.filter((estimate) => estimate.id !== "mean-head-for-age" || children.head !== null);
  const estimated = wanted.map((estimate) => runEstimate(estimate, children, settings));
  stage("consequence");
  const found = runs.map((run) => run.result);
  const computed = computeConsequence(children, settings, estimates, found);
  const book = bookOf(children);
  const told = publishable(
    {
      checks: found,
      estimates: estimated,
      scenarios: computed?.scenarios ?? [],
      answers: computed?.answers ?? [],
      repairs: computed?.repairs ?? [],
    },
    book,
  );
  const consequence = computed === null ? null : tellConsequence({ ...computed, ...told });
  stage("interpret");
  const days = dayRange(children.interviewDay);
  const { notes, ...plainSettings } = settings;
  const body =
    consequence === null
      ? { checks: [...told.checks], estimates: [...told.estimates] }
      : { checks: linkChecks(told.checks, consequence), estimates: [...told.estimates], consequence };
  const unread: Unread = {
    format: "tareline-results",
    version: 3,
    tool: { name: "Tareline", version: input.version },
    madeOn: input.date ?? (days === null ? null : isoDay(days.last)),
    survey: {
      name: settings.name,
      title: settings.title,
      population: settings.population,
      language: settings.language,
      firstDay: days === null ? null : isoDay(days.first),
      lastDay: days === null ? null : isoDay(days.last),
      invented: settings.invented,
    },
    input: {
      file: input.table.file,
      bytes: input.table.bytes,
      sha256: input.table.sha256,
      encoding: input.table.encoding,
      delimiter: input.table.delimiter,
      ...(input.table.container === undefined ? {} : { container: input.table.container }),
      settingsSha256: input.settingsSha256,
      ...(input.clusterList == null
        ? {}
        : { clusterList: { file: input.clusterList.file, sha256: input.clusterList.sha256 } }),
      rowsRead: derived.rowsRead,
      rowsUsed: children.count,
      leftOut: [...derived.leftOut],
    },
    settings: plainSettings,
    notes: [...notes, ...unreadNotes(survey, children)].map((note) => message(note.id, note.values)),
    design: designResult(children, survey),
    children: childrenOf(children, settings.exclusions.widthAroundMean),
    groups: book.register(groupsIn(body)),
    ...body,
    sources: citedSources(body),
  };
  const toCheck = runs.map(({ result, rows }) => ({ check: message(`checks.${result.id}.title`), rows }));
  const rows = rowList(
    [...toCheck, rowsLeftOut(survey, children), rowsSetAside(survey, children)],
    input.table,
    settings,
    input.surveyFile,
  );
  return {
    results: { ...unread, story: tellStory(unread), comparable: comparableOf(unread) },
    rows,
    codes: codeList(survey),
    survey,
  };
}
