import type { CodedColumn } from "../../columns/survey.js";
import type { Children, IndexId } from "../../derive/children.js";
import { expendable } from "../../disclosure/book.js";
import { ageBands, keyOf } from "../../disclosure/splits.js";
import { differByFew } from "../../disclosure/withhold.js";
import type { GroupId } from "../../results/group.js";
import type { Message } from "../../results/schema.js";
import { againstOthers, type GroupAndOthers } from "../../stats/against-others.js";
import { estimateStandardDeviation } from "../../stats/design/standard-deviation.js";
import { designAt, type SurveyDesign } from "../../stats/design/survey-design.js";
import { benjaminiHochberg } from "../../stats/false-discovery.js";
import { oneWay } from "../../stats/one-way.js";
import { quantile } from "../../stats/quantile.js";
import { studentQuantile, studentTwoSided } from "../../stats/student-t.js";
import type { CheckInput } from "../check.js";
import { type Group, groupsOf } from "../shared/groups.js";
import { keptScores, knownIn } from "../shared/kept-scores.js";
import { chanceLevel } from "../shared/reading.js";
import { allTeamsTold } from "../shared/told.js";
import { clustersTooFew, fullest, tooLittle } from "../shared/too-little.js";
import { narrowBelow, type SpreadReference, spreadReferences } from "./reference.js";

/** A standard deviation with its design-based uncertainty. */
interface Spread {
  readonly n: number;
  readonly value: number;
  /** Standard error of the logarithm. */
  readonly logError: number;
  readonly degreesOfFreedom: number;
  readonly low: number;
  readonly high: number;
}

type SpreadReading = "expected" | "explain" | "doubt" | "unknown";

/** One index of one group. */
export interface GroupSpread {
  readonly of: GroupId;
  readonly by: "sex" | "age-group" | "area" | "stratum" | "team";
  readonly label: string;
  readonly index: IndexId;
  readonly spread: Spread;
  /** Standard deviation over that of the other teams; teams only. */
  readonly ratio: number;
  /** Of a ratio of 1, after false-discovery control over teams and indices; teams only. */
  readonly adjustedProbability: number;
  readonly reading: SpreadReading;
}

/** One index of the survey. */
export interface IndexSpread {
  readonly of: GroupId;
  readonly reference: SpreadReference;
  /** After the fixed limits. */
  readonly fixed: Spread;
  /** After the limits around the survey's mean; null where that would tell of the few children between the two rules. */
  readonly aroundMean: (Spread & { readonly of: GroupId }) | null;
  readonly setAsideFixed: number;
  readonly setAsideAroundMean: number;
  /** Brown-Forsythe test that teams spread alike; NaN where it cannot be made. */
  readonly teamsTest: { readonly f: number; readonly probability: number };
  readonly reading: SpreadReading;
  readonly side: "wide" | "narrow" | "none";
}

/** Fewer children than this give no standard deviation worth reading. As for estimates: judgement. */
export const fewestForSpread = 25;
/** A standard deviation below this is the rounding of equal numbers, and no variation: scores are read to two decimals. */
const roundingNoise = 1e-9;
/** Practical size: a team's spread a quarter wider or narrower than the others'. Judgement. */
const teamRatio = 1.25;

/** Interval on the logarithmic scale, which keeps it above 0: exp(ln s +- t SE(s) / s). */
function spreadOf(design: SurveyDesign, values: Float64Array, inDomain: Uint8Array): Spread | null {
  const found = estimateStandardDeviation(design, values, inDomain);
  const logError = found.standardError / found.estimate;
  if (found.n < fewestForSpread || !(found.estimate > roundingNoise)) return null;
  if (!(logError > 0) || !(found.degreesOfFreedom > 0)) return null;
  const half = studentQuantile(0.975, found.degreesOfFreedom) * logError;
  return {
    n: found.n,
    value: found.estimate,
    logError,
    degreesOfFreedom: found.degreesOfFreedom,
    low: found.estimate * Math.exp(-half),
    high: found.estimate * Math.exp(half),
  };
}

function domainOf(values: Float64Array): Uint8Array {
  const domain = new Uint8Array(values.length);
  for (let i = 0; i < values.length; i++) domain[i] = Number.isNaN(values[i]) ? 0 : 1;
  return domain;
}

/** The reading of one spread against its lines: the whole interval must lie beyond. */
function judgeSpread(
  spread: Spread,
  reference: SpreadReference,
): { reading: SpreadReading; side: IndexSpread["side"] } {
  if (spread.low > reference.doubtAbove) return { reading: "doubt", side: "wide" };
  if (spread.low > reference.explainAbove) return { reading: "explain", side: "wide" };
  if (spread.high < narrowBelow) return { reading: "explain", side: "narrow" };
  return { reading: "expected", side: "none" };
}

/**
 * Brown-Forsythe test at the level of clusters: one-way analysis of variance over teams of each cluster's mean distance
 * |z - median of its team|, so that children of one cluster do not count as independent. Without clusters, over children.
 */
function brownForsytheOverClusters(children: Children, values: Float64Array): IndexSpread["teamsTest"] {
  const team = children.team;
  if (team === null) return { f: Number.NaN, probability: Number.NaN };
  const medians = groupsOfCodes(values, team.codes, team.labels.length).map((own) => quantile(own, 0.5));
  const cells = new Map<number, { sum: number; n: number; team: number }>();
  for (let i = 0; i < values.length; i++) {
    const code = team.codes[i] as number;
    if (code < 0 || Number.isNaN(values[i])) continue;
    const cluster = children.cluster === null ? i : (children.cluster.codes[i] as number);
    const key = (cluster + 1) * team.labels.length + code;
    const cell = cells.get(key) ?? { sum: 0, n: 0, team: code };
    cell.sum += Math.abs((values[i] as number) - (medians[code] as number));
    cell.n++;
    cells.set(key, cell);
  }
  const list = [...cells.values()];
  const test = oneWay(
    list.map((cell) => cell.sum / cell.n),
    list.map((cell) => cell.team),
    team.labels.length,
  );
  return { f: test.f, probability: test.probability };
}

function groupsOfCodes(values: Float64Array, codes: Int32Array, count: number): number[][] {
  const groups: number[][] = Array.from({ length: count }, () => []);
  for (let i = 0; i < values.length; i++) {
    if (!Number.isNaN(values[i])) groups[codes[i] as number]?.push(values[i] as number);
  }
  return groups;
}

/** Every index with enough children. */
export function indexSpreads(
  { children, book }: Pick<CheckInput, "children" | "book">,
  design: SurveyDesign,
): IndexSpread[] {
  return spreadReferences.flatMap((reference) => {
    const column = children.indices[reference.index];
    const kept = keptScores(children, reference.index);
    const narrower = keptScores(children, reference.index, "around-mean");
    if (tooLittle(kept, fewestForSpread) !== null) return [];
    const fixed = spreadOf(design, kept, domainOf(kept));
    if (fixed === null) return [];
    const told = { inDomain: knownIn(kept), other: knownIn(narrower) };
    const aroundMean = differByFew(told.inDomain, told.other) ? null : spreadOf(design, narrower, told.other);
    const subject = `z/${reference.index}`;
    const other = () => book.group(subject, told.other, "limits around the mean", expendable.otherRule);
    return [
      {
        of: book.subject(subject, told.inDomain, { aboutHealth: true }).whole,
        reference,
        fixed,
        aroundMean: aroundMean === null ? null : { ...aroundMean, of: other() },
        setAsideFixed: column.outsideFixed.reduce((sum, one) => sum + one, 0),
        setAsideAroundMean: column.outsideAroundMean.reduce((sum, one) => sum + one, 0),
        teamsTest: allTeamsTold(children, book.subject(subject, told.inDomain, { aboutHealth: true }))
          ? brownForsytheOverClusters(children, kept)
          : { f: Number.NaN, probability: Number.NaN },
        ...judgeSpread(fixed, reference),
      },
    ];
  });
}

/** Why no index could be read, told of the index with the most z-scores. */
export function whyNoSpread(children: Children, design: SurveyDesign): Message {
  const scores = fullest(spreadReferences.map(({ index }) => keptScores(children, index)));
  return tooLittle(scores, fewestForSpread) ?? clustersTooFew(scores, design);
}

interface Member extends Group {
  readonly by: GroupSpread["by"];
  /** Of the split it is a part of. */
  readonly key: string;
}

/** The spread among some children, in the design of all. */
function spreadAt(design: SurveyDesign, values: Float64Array, members: Int32Array): Spread | null {
  const own = new Float64Array(members.length);
  for (let k = 0; k < members.length; k++) own[k] = values[members[k] as number] as number;
  return spreadOf(design, own, domainOf(own));
}

function where(
  children: Children,
  { by, label, key, code }: Omit<Member, "members">,
  keep: (child: number) => boolean,
): Member {
  const members: number[] = [];
  for (let child = 0; child < children.count; child++) if (keep(child)) members.push(child);
  return { by, label, key, code, members: Int32Array.from(members) };
}

/** Strata where no areas are named. Age groups in completed months; under six months separate, since little is known of their spread. */
function membersOf(children: Children): Member[] {
  const months = children.ageMonths;
  const between = (from: number, to: number) => (child: number) =>
    (months[child] as number) >= from && (months[child] as number) < to;
  const ofColumn = (by: Member["by"], column: CodedColumn | null): Member[] =>
    column === null ? [] : groupsOf(column).map((group) => ({ ...group, by, key: keyOf(column) }));
  return [
    ...["male", "female"].map((label, code) =>
      where(children, { by: "sex", label, key: "sex", code }, (child) => children.sex[child] === code + 1),
    ),
    ...ageBands.map(({ from, to }, code) =>
      where(children, { by: "age-group", label: `${from}-${to}`, key: "age-band", code }, between(from, to + 1)),
    ),
    ...ofColumn("area", children.area),
    ...(children.area === null ? ofColumn("stratum", children.stratum) : []),
    ...ofColumn("team", children.team),
  ];
}

/**
 * How a team's spread compares with the others': t = (ln s1 - ln s2) / (e sqrt(N / n1 + N / n2)), e the standard error of
 * the logarithm over all N children. Under the hypothesis of one spread the whole survey tells that error best; a team's
 * own clusters are too few for it.
 */
function teamTest(own: GroupAndOthers | undefined, whole: Spread): { ratio: number; probability: number } {
  const ratio = (own?.standardDeviation ?? Number.NaN) / (own?.othersStandardDeviation ?? Number.NaN);
  if (own === undefined || own.othersN < fewestForSpread || !(ratio > 0) || !Number.isFinite(ratio)) return untested;
  const error = whole.logError * Math.sqrt(whole.n / own.n + whole.n / own.othersN);
  return {
    ratio,
    probability: studentTwoSided(Math.log(ratio) / error, whole.degreesOfFreedom),
  };
}

const untested = { ratio: Number.NaN, probability: Number.NaN };

/** The same spread with an interval that holds for all of so many at once (Bonferroni). */
function heldTogether(spread: Spread, count: number): Spread {
  const half = studentQuantile(1 - 0.025 / count, spread.degreesOfFreedom) * spread.logError;
  return {
    ...spread,
    low: spread.value * Math.exp(-half),
    high: spread.value * Math.exp(half),
  };
}

function judgeTeam(spread: Spread, reference: SpreadReference, ratio: number, adjusted: number): SpreadReading {
  const byLines = judgeSpread(spread, reference).reading;
  const different = ratio >= teamRatio || ratio <= 1 / teamRatio;
  if (adjusted < chanceLevel.doubt && different && spread.low > reference.explainAbove) return "doubt";
  if (adjusted < chanceLevel.explain && different) return "explain";
  // Beyond the lines, but no more than the other teams are: that is the survey's finding, and not this team's.
  return byLines === "doubt" ? "explain" : byLines;
}

/** Every group with enough children, for every index given. Groups that hold everybody say nothing new and are left out. */
export function groupSpreads(
  { children, book }: Pick<CheckInput, "children" | "book">,
  design: SurveyDesign,
  indices: readonly IndexSpread[],
): GroupSpread[] {
  const members = membersOf(children).map((member) => ({ ...member, design: designAt(design, member.members) }));
  const found = indices.flatMap(({ reference, fixed }) => {
    const values = keptScores(children, reference.index);
    const { team } = children;
    const teams = team === null ? [] : againstOthers(values, team.codes, team.labels.length);
    const subject = book.subject(`z/${reference.index}`, knownIn(values), { aboutHealth: true });
    return members.flatMap(({ by, label, key, code, members: own, design: ownDesign }) => {
      const of = subject.part(key, code, { by, label });
      if (of === null) return [];
      const spread = spreadAt(ownDesign, values, own);
      if (spread === null || spread.n === fixed.n) return [];
      const test = by === "team" ? teamTest(teams[code], fixed) : untested;
      return [{ of, by, label, index: reference.index, reference, spread, ...test }];
    });
  });
  const tested = found.filter((group) => !Number.isNaN(group.probability));
  const adjusted = benjaminiHochberg(tested.map((group) => group.probability));
  const adjustedOf = new Map(tested.map((group, i) => [group, adjusted[i] as number]));
  return found.map((group) => {
    const adjustedProbability = adjustedOf.get(group) ?? Number.NaN;
    const { of, by, label, index, spread, ratio, reference } = group;
    const together = heldTogether(spread, found.filter((other) => other.by === by).length);
    const reading =
      by === "team"
        ? judgeTeam(together, reference, ratio, adjustedProbability)
        : judgeSpread(together, reference).reading;
    return { of, by, label, index, spread, ratio, adjustedProbability, reading };
  });
}
