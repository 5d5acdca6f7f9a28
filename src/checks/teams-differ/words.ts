import type { IndexId } from "../../derive/children.js";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import type { Said } from "../check.js";
import { labelOf } from "./drawing.js";
import type { TeamDrift } from "./team-drift.js";
import type { TeamFinding, TeamsDifferNumbers } from "./team-findings.js";
import type { TeamLevel } from "./team-levels.js";

/** What was found of one kind beyond expectation, what moves the survey most first. */
function noticed(numbers: TeamsDifferNumbers, kind: TeamFinding["kind"]): TeamFinding[] {
  return numbers.findings
    .filter((one) => one.kind === kind && one.reading !== "expected")
    .sort((a, b) => b.shift - a.shift);
}

function driftFor(numbers: TeamsDifferNumbers, finding: TeamFinding): TeamDrift | undefined {
  return numbers.drifts.find((one) => one.team === finding.team && one.measure === finding.subject);
}

function levelFor(numbers: TeamsDifferNumbers, finding: TeamFinding): TeamLevel | undefined {
  const index = numbers.levels.find((one) => one.index === finding.subject);
  return index?.teams.find((one) => one.team === finding.team);
}

function levelValues(numbers: TeamsDifferNumbers, finding: TeamFinding) {
  const level = levelFor(numbers, finding);
  return {
    team: labelOf(numbers, finding.team),
    index: message(`index.${finding.subject as IndexId}`),
    difference: Math.abs(finding.size),
    direction: finding.size > 0 ? "higher" : "lower",
    low: level?.low ?? 0,
    high: level?.high ?? 0,
    n: level?.n ?? 0,
    shift: finding.shift,
  };
}

function driftValues(numbers: TeamsDifferNumbers, finding: TeamFinding) {
  const trend = driftFor(numbers, finding);
  const unit = trend === undefined || trend.slope === 0 ? Number.NaN : trend.perDay / trend.slope;
  // Grams for weight, millimetres for height: the units an instrument is checked in.
  const small = finding.subject === "weight" ? 1000 : 10;
  const known = Number.isFinite(unit);
  return {
    team: labelOf(numbers, finding.team),
    measure: finding.subject,
    direction: finding.size > 0 ? "up" : "down",
    known: known ? "yes" : "no",
    perDay: known ? Math.abs((trend?.perDay ?? 0) * small) : 0,
    perDayLow: known ? (trend?.low ?? 0) * unit * small : 0,
    perDayHigh: known ? (trend?.high ?? 0) * unit * small : 0,
    slope: trend?.slope ?? 0,
    slopeLow: trend?.low ?? 0,
    slopeHigh: trend?.high ?? 0,
    change: Math.abs(finding.size),
    days: trend?.dayCount ?? 0,
    n: trend?.n ?? 0,
    shift: finding.shift,
  };
}

/** The finding: a drift first, else a level. */
export function finding(numbers: TeamsDifferNumbers): Message {
  const drift = noticed(numbers, "drift")[0];
  const level = noticed(numbers, "level")[0];
  const more = new Set([...noticed(numbers, "drift"), ...noticed(numbers, "level")].map((one) => one.team)).size - 1;
  if (drift !== undefined)
    return message("checks.teams-differ.finding.drift", { ...driftValues(numbers, drift), more });
  if (level !== undefined)
    return message("checks.teams-differ.finding.level", { ...levelValues(numbers, level), more });
  return message("checks.teams-differ.finding.expected", {
    teams: numbers.teams.length,
    largest: largestDifference(numbers),
  });
}

function largestDifference(numbers: TeamsDifferNumbers): number {
  return Math.max(0, ...numbers.findings.filter((one) => one.kind === "level").map((one) => Math.abs(one.size)));
}

/** What the same team's heights did while its weights moved, or the other way round. */
function contrastOf(numbers: TeamsDifferNumbers, drift: TeamFinding): Message[] {
  const other = numbers.drifts.find(
    (one) => one.team === drift.team && one.measure !== drift.subject && !Number.isNaN(one.slope),
  );
  if (other === undefined) return [];
  const moved = other.low > 0 || other.high < 0;
  return [
    message(`checks.teams-differ.meaning.${moved ? "both-moved" : "other-steady"}`, {
      team: labelOf(numbers, drift.team),
      measure: other.measure,
      slope: other.slope,
      low: other.low,
      high: other.high,
    }),
  ];
}

function meaning(numbers: TeamsDifferNumbers): Message[] {
  const levels = noticed(numbers, "level");
  const drifts = noticed(numbers, "drift");
  const place =
    numbers.within === "none" ? (numbers.teamsAreAreas ? "wholly-confounded" : "confounded") : "within-places";
  return [
    ...drifts.flatMap((one) => [
      message("checks.teams-differ.meaning.drift", driftValues(numbers, one)),
      ...contrastOf(numbers, one),
    ]),
    ...levels.map((one) => message("checks.teams-differ.meaning.level", levelValues(numbers, one))),
    ...(levels.length > 0 ? [message(`checks.teams-differ.meaning.${place}`, { within: numbers.within })] : []),
    ...(levels.length + drifts.length === 0
      ? [
          ...numbers.levels
            .filter(({ allTold }) => allTold)
            .map((one) =>
              message("checks.teams-differ.meaning.index", {
                index: message(`index.${one.index}`),
                low: Math.min(...one.teams.map((team) => team.mean)),
                high: Math.max(...one.teams.map((team) => team.mean)),
                probability: one.probability,
              }),
            ),
          message("checks.teams-differ.meaning.not-proof"),
        ]
      : []),
    ...(numbers.drifts.some((one) => !Number.isNaN(one.slope)) ? [] : [message("checks.teams-differ.meaning.no-days")]),
    ...(numbers.clustered ? [] : [message("checks.teams-differ.meaning.no-clusters")]),
  ];
}

/** Everything the check says. */
export function say(numbers: TeamsDifferNumbers): Said {
  const told = (part: string): Message => message(`checks.teams-differ.${part}`);
  const levels = noticed(numbers, "level");
  const drifts = noticed(numbers, "drift");
  const instruments = [...new Set(drifts.map((one) => one.subject))];
  return {
    finding: finding(numbers),
    meaning: meaning(numbers),
    causes: [
      ...(levels.length > 0 ? [told("cause.places"), told("cause.instrument")] : []),
      ...(drifts.length > 0 ? [told("cause.drift-instrument"), told("cause.drift-route")] : []),
    ],
    actions: [
      ...instruments.map((instrument) => told(`action.log-${instrument}`)),
      ...(levels.length > 0 ? [told("action.same-places"), told("action.instrument")] : []),
      ...(levels.length + drifts.length > 0 ? [told("action.without-team")] : []),
    ],
    method: [
      told("method.levels"),
      ...(numbers.within === "none" ? [] : [message("checks.teams-differ.method.within", { within: numbers.within })]),
      ...(numbers.drifts.length > 0 ? [told(numbers.weightHeldAgainstArm ? "method.drift-arm" : "method.drift")] : []),
      told("method.reading"),
    ],
  };
}
