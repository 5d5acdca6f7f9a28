import type { Children, IndexId } from "../../derive/children.js";
import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import type { CheckInput } from "../check.js";
import { groupsOf } from "../shared/groups.js";
import { countKnown, keptScores } from "../shared/kept-scores.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { chanceLevel, fewestChildren, mostSerious } from "../shared/reading.js";
import { partOf } from "../shared/told.js";
import { fullest, tooLittle } from "../shared/too-little.js";
import type { DriftMeasure } from "./drift-scores.js";
import { drifts, type TeamDrift } from "./team-drift.js";
import { type IndexLevels, levelsOf, placesShared } from "./team-levels.js";

/** One thing that one team was tested for. */
export interface TeamFinding {
  readonly team: number;
  readonly kind: "level" | "drift";
  readonly subject: IndexId | DriftMeasure;
  /** Difference from the other teams, or change from the team's first to its last day, in z. */
  readonly size: number;
  /** After false-discovery control over teams, indices and trends together. */
  readonly adjustedProbability: number;
  /** What it moves the mean of the whole survey by, in z. */
  readonly shift: number;
  readonly reading: "expected" | "explain" | "doubt";
}

export interface TeamSummary {
  /** Null where nothing may be told of the team. */
  readonly of: GroupId | null;
  readonly team: number;
  readonly label: string;
  readonly n: number;
  /** Children with a z-score beyond the fixed limits in any index, among those with any z-score. */
  readonly outside: number;
  readonly scored: number;
  readonly reading: "expected" | "explain" | "doubt" | "unknown";
}

export interface TeamsDifferNumbers {
  readonly teams: readonly TeamSummary[];
  readonly levels: readonly IndexLevels[];
  readonly drifts: readonly TeamDrift[];
  readonly weightHeldAgainstArm: boolean;
  readonly findings: readonly TeamFinding[];
  /** Whether teams were compared within areas or strata they share. */
  readonly within: "area" | "stratum" | "none";
  /** Areas are known but no two teams share one. */
  readonly teamsAreAreas: boolean;
  readonly clustered: boolean;
  /** The first day's and last day's distance; 0 where days are unknown. */
  readonly dayCount: number;
}

/**
 * Practical size: a difference, or a change from first to last day, of a quarter of a z-score. At a mean of -1 that moves
 * a share of 16 % below -2 to 22 % (computed: normal distribution). Judgement, no source.
 */
export const explainSize = 0.25;
/** What moves the mean of the whole survey by a tenth of a z-score moves its prevalence by about a sixth. Judgement. */
const doubtShift = 0.1;

const levelIndices: readonly IndexId[] = ["weight-for-height", "height-for-age", "arm-for-age"];

function readFinding(size: number, shift: number, adjusted: number): TeamFinding["reading"] {
  if (adjusted < chanceLevel.doubt && shift >= doubtShift && Math.abs(size) >= explainSize) return "doubt";
  return adjusted < chanceLevel.explain && Math.abs(size) >= explainSize ? "explain" : "expected";
}

interface Tested extends Omit<TeamFinding, "adjustedProbability" | "reading"> {
  readonly probability: number;
}

function levelTests(levels: readonly IndexLevels[]): Tested[] {
  return levels.flatMap(({ index, n, teams }) =>
    teams
      .filter((team) => team.of !== null && !Number.isNaN(team.probability))
      .map(({ team, difference, probability, n: own }) => {
        const shift = (Math.abs(difference) * own) / n;
        return { team, kind: "level", subject: index, size: difference, probability, shift };
      }),
  );
}

function driftTests(trends: readonly TeamDrift[], everyone: number): Tested[] {
  return trends
    .filter((trend) => !Number.isNaN(trend.probability))
    .map(({ team, measure, change, probability, n }) => {
      // A trend that starts at nothing has moved the team's mean by half its change.
      const shift = (Math.abs(change) / 2) * (n / everyone);
      return { team, kind: "drift", subject: measure, size: change, probability, shift };
    });
}

/** The index in which a drifting instrument moves a team's level. */
const levelOfDrift: Readonly<Record<DriftMeasure, IndexId>> = { weight: "weight-for-height", height: "height-for-age" };

/**
 * A team whose level was already found different is asked one further question: steady, or growing day by day? That is
 * one test of a team already named, read at the plain 5 % level; it names no team that would not be named without it.
 */
function followUp(findings: readonly TeamFinding[], tested: readonly Tested[]): TeamFinding[] {
  return findings.map((finding, i) => {
    const probability = tested[i]?.probability ?? Number.NaN;
    if (finding.kind !== "drift" || finding.reading !== "expected" || !(probability < chanceLevel.explain))
      return finding;
    const named = findings.some(
      (other) =>
        other.kind === "level" &&
        other.team === finding.team &&
        other.subject === levelOfDrift[finding.subject as DriftMeasure] &&
        other.reading !== "expected" &&
        Math.sign(other.size) === Math.sign(finding.size),
    );
    return named && Math.abs(finding.size) >= explainSize ? { ...finding, reading: "explain" } : finding;
  });
}

/**
 * Levels, trends of weight and trends of height are three families, controlled together. Where every team worked in places of its
 * own, a difference between teams is one between places too, and needs explaining at most.
 */
function findingsOf(families: readonly (readonly Tested[])[], teamsAreAreas: boolean): TeamFinding[] {
  const adjusted = adjustTogether(
    [],
    families.map((family) => family.map((test) => test.probability)),
  ).families;
  const findings = families.flatMap((family, f) =>
    family.map(({ probability: _, ...test }, i): TeamFinding => {
      const adjustedProbability = adjusted[f]?.[i] ?? Number.NaN;
      const reading = readFinding(test.size, test.shift, adjustedProbability);
      const isPlaceToo = teamsAreAreas && test.kind === "level" && reading === "doubt";
      return { ...test, adjustedProbability, reading: isPlaceToo ? "explain" : reading };
    }),
  );
  return followUp(findings, families.flat());
}

function summaries(
  { children, book }: Pick<CheckInput, "children" | "book">,
  findings: readonly TeamFinding[],
): TeamSummary[] {
  const { team } = children;
  if (team === null) return [];
  const n = new Float64Array(team.labels.length);
  const scored = new Float64Array(team.labels.length);
  const outside = new Float64Array(team.labels.length);
  const columns = (["weight-for-height", "height-for-age", "weight-for-age"] as const).map(
    (id) => children.indices[id],
  );
  const anyScore = new Uint8Array(children.count);
  for (let child = 0; child < children.count; child++) {
    const code = team.codes[child] as number;
    if (columns.some(({ z }) => !Number.isNaN(z[child]))) anyScore[child] = 1;
    if (code < 0) continue;
    n[code] = (n[code] as number) + 1;
    scored[code] = (scored[code] as number) + (anyScore[child] as number);
    if (columns.some(({ outsideFixed }) => outsideFixed[child] === 1)) outside[code] = (outside[code] as number) + 1;
  }
  const subject = book.subject("implausible/three", anyScore);
  return team.labels.flatMap((_, code) => {
    if (n[code] === 0) return [];
    const own = findings.filter((finding) => finding.team === code);
    return [
      {
        of: partOf(subject, "team", team, { code, label: team.publicLabels[code] ?? "" }),
        team: code,
        label: team.publicLabels[code] ?? "",
        n: n[code] as number,
        outside: outside[code] as number,
        scored: scored[code] as number,
        reading: mostSerious(own.map((finding) => finding.reading)),
      },
    ];
  });
}

/** All numbers of the check; null where no team can be held against another. */
export function teamsDifferNumbers({
  children,
  book,
}: Pick<CheckInput, "children" | "book">): TeamsDifferNumbers | null {
  const places = placesShared(children);
  const readable = levelIndices.filter((index) => tooLittle(keptScores(children, index), fewestChildren) === null);
  const levels = readable.flatMap((index) => levelsOf({ children, book }, index, places) ?? []);
  const none = { teams: [], heldAgainstArm: false };
  const weight = readable.includes(levelOfDrift.weight) ? drifts({ children, book }, "weight") : none;
  const height = readable.includes(levelOfDrift.height) ? drifts({ children, book }, "height") : none;
  const teamsAreAreas = places === null && (children.area !== null || children.stratum !== null);
  const findings = findingsOf(
    [levelTests(levels), driftTests(weight.teams, children.count), driftTests(height.teams, children.count)],
    teamsAreAreas,
  );
  if (findings.length === 0) return null;
  const days = new Set(children.interviewDay?.filter((day) => !Number.isNaN(day)) ?? []);
  return {
    teams: summaries({ children, book }, findings),
    levels,
    drifts: [...weight.teams, ...height.teams],
    weightHeldAgainstArm: weight.heldAgainstArm,
    findings,
    within: places?.kind ?? "none",
    teamsAreAreas,
    clustered: children.cluster !== null,
    dayCount: days.size,
  };
}

/** Why no team can be held against another, told of the index with the most z-scores. */
export function whyNoComparison(children: Children): Message {
  const scores = fullest(levelIndices.map((index) => keptScores(children, index)));
  const sizes = groupsOf(children.team)
    .map(({ members }) => countKnown(Float64Array.from(members, (child) => scores[child] as number)))
    .filter((size) => size > 0);
  const few = tooLittle(scores, fewestChildren);
  if (few !== null) return few;
  if (sizes.length < 2) return message("checks.teams-differ.unknown.one-team", { teams: sizes.length });
  if (Math.max(...sizes) < fewestChildren)
    return message("checks.teams-differ.unknown.small-teams", { fewest: fewestChildren });
  return message("checks.teams-differ.unknown.few-clusters");
}
