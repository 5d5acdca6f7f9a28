import type { CodedColumn } from "../../columns/survey.js";
import type { Children, IndexId } from "../../derive/children.js";
import type { GroupId } from "../../results/group.js";
import { withholdBelow } from "../../results/withhold-below.js";
import { againstOthers, type GroupAndOthers } from "../../stats/against-others.js";
import { blockedComparison } from "../../stats/blocked-comparison.js";
import { studentQuantile } from "../../stats/student-t.js";
import type { CheckInput } from "../check.js";
import { countKnown, keptScores, knownIn } from "../shared/kept-scores.js";
import { allTeamsTold, partOf } from "../shared/told.js";

/** One team's mean z-score against the other teams'. */
export interface TeamLevel {
  /** Null where nothing may be told of the team. */
  readonly of: GroupId | null;
  /** Position of the team in the column's labels. */
  readonly team: number;
  readonly n: number;
  readonly mean: number;
  /** Less the mean of the other teams (of the same places, where places overlap); NaN where it cannot be had. */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  readonly probability: number;
  /** Standard deviation over that of the other teams. */
  readonly spreadRatio: number;
}

/** All teams in one index. */
export interface IndexLevels {
  readonly of: GroupId;
  /** False where a team is kept back, whom a statistic over all teams would give away. */
  readonly allTold: boolean;
  readonly index: IndexId;
  readonly n: number;
  readonly f: number;
  readonly dfBetween: number;
  readonly dfWithin: number;
  readonly probability: number;
  readonly teams: readonly TeamLevel[];
}

/** What teams are compared within: areas or strata in which more than one team worked; null for none. */
export interface Places {
  readonly column: CodedColumn;
  readonly kind: "area" | "stratum";
}

/**
 * Units of the comparison: the children of one team in one cluster. Team differences are held against differences
 * between such units, since a team that worked in other places met other children. Without clusters, each child.
 */
interface Cells {
  readonly mean: Float64Array;
  readonly size: Float64Array;
  readonly team: Int32Array;
  readonly place: Int32Array;
}

/** Areas, else strata, where at least two teams share one of them; otherwise teams cannot be told from places. */
export function placesShared(children: Children): Places | null {
  for (const kind of ["area", "stratum"] as const) {
    const column = children[kind];
    if (column === null || children.team === null) continue;
    const seen = new Map<number, number>();
    for (let child = 0; child < children.count; child++) {
      const place = column.codes[child] as number;
      const team = children.team.codes[child] as number;
      if (place < 0 || team < 0) continue;
      const first = seen.get(place);
      if (first === undefined) seen.set(place, team);
      else if (first !== team) return { column, kind };
    }
  }
  return null;
}

function cellsOf(children: Children, team: CodedColumn, values: Float64Array, places: Places | null): Cells {
  const cells = new Map<number, { sum: number; n: number; team: number; place: number }>();
  const placeCount = places?.column.labels.length ?? 0;
  const teamCount = team.labels.length;
  for (let child = 0; child < children.count; child++) {
    const code = team.codes[child] as number;
    const value = values[child] as number;
    if (code < 0 || Number.isNaN(value)) continue;
    const known = places?.column.codes[child] ?? 0;
    const place = known < 0 ? placeCount : known;
    const cluster = children.cluster === null ? child : (children.cluster.codes[child] as number);
    const key = ((cluster + 1) * (placeCount + 1) + place) * teamCount + code;
    let cell = cells.get(key);
    if (cell === undefined) {
      cell = { sum: 0, n: 0, team: code, place };
      cells.set(key, cell);
    }
    cell.sum += value;
    cell.n++;
  }
  const list = [...cells.values()];
  return {
    mean: Float64Array.from(list, (cell) => cell.sum / cell.n),
    size: Float64Array.from(list, (cell) => cell.n),
    team: Int32Array.from(list, (cell) => cell.team),
    place: Int32Array.from(list, (cell) => cell.place),
  };
}

/** NaN where either has no spread. */
function spreadRatioOf(spread: GroupAndOthers | undefined): number {
  const { standardDeviation = Number.NaN, othersStandardDeviation = Number.NaN } = spread ?? {};
  return standardDeviation > 0 && othersStandardDeviation > 0
    ? standardDeviation / othersStandardDeviation
    : Number.NaN;
}

/** Whether a team is held against so few other children, of the places that it worked in, that the difference tells of these. */
function othersAreFew(
  { count }: Children,
  team: CodedColumn,
  values: Float64Array,
  places: Places | null,
  own: number,
): boolean {
  const place = (child: number): number => places?.column.codes[child] ?? 0;
  const measured = (child: number): boolean => !Number.isNaN(values[child]) && (team.codes[child] as number) >= 0;
  const shared = new Set<number>();
  for (let child = 0; child < count; child++)
    if (team.codes[child] === own && measured(child)) shared.add(place(child));
  let others = 0;
  for (let child = 0; child < count; child++) {
    if (team.codes[child] !== own && measured(child) && shared.has(place(child))) others += 1;
  }
  return others > 0 && others < withholdBelow;
}

/** Means of every team in one index, with each team's difference from the others. Null with fewer than two teams. */
export function levelsOf(
  { children, book }: Pick<CheckInput, "children" | "book">,
  index: IndexId,
  places: Places | null,
): IndexLevels | null {
  const { team } = children;
  const values = keptScores(children, index);
  if (team === null || countKnown(values) === 0) return null;
  const subject = book.subject(`z/${index}`, knownIn(values), { aboutHealth: true });
  const cells = cellsOf(children, team, values, places);
  const count = team.labels.length;
  const placeCount = (places?.column.labels.length ?? 0) + 1;
  const found = blockedComparison(cells.mean, cells.size, cells.team, count, cells.place, placeCount);
  if (!(found.dfBetween > 0) || !(found.dfWithin > 0)) return null;
  const spreads = againstOthers(values, team.codes, count);
  const half = studentQuantile(0.975, found.dfWithin);
  const teams = team.labels.flatMap((_, own): TeamLevel[] => {
    let n = 0;
    let sum = 0;
    cells.team.forEach((code, cell) => {
      if (code !== own) return;
      n += cells.size[cell] as number;
      sum += (cells.size[cell] as number) * (cells.mean[cell] as number);
    });
    const contrast = found.contrasts[own];
    if (n === 0 || contrast === undefined) return [];
    const { difference, standardError, probability } = contrast;
    return [
      {
        of: othersAreFew(children, team, values, places, own)
          ? null
          : partOf(subject, "team", team, { code: own, label: team.publicLabels[own] ?? "" }),
        team: own,
        n,
        mean: sum / n,
        difference,
        low: difference - half * standardError,
        high: difference + half * standardError,
        probability,
        spreadRatio: spreadRatioOf(spreads[own]),
      },
    ];
  });
  const n = teams.reduce((sum, own) => sum + own.n, 0);
  return {
    of: subject.whole,
    allTold: allTeamsTold(children, subject),
    index,
    n,
    f: found.f,
    dfBetween: found.dfBetween,
    dfWithin: found.dfWithin,
    probability: found.probability,
    teams,
  };
}
