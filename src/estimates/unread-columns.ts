import type { CodedColumn, Survey, UnreadColumn } from "../columns/survey.js";
import type { Children } from "../derive/children.js";
import { designOf } from "../derive/design.js";
import { type OutcomeId, outcome } from "../derive/outcome.js";
import { type Note, note } from "../settings/notes.js";
import type { SurveySettings } from "../settings/settings.js";
import { estimateProportion } from "../stats/design/proportion.js";

/** Own rules: a prevalence that moves by more than a fifth of its standard error, a standard error that changes by a fifth. */
const mostShift = 0.2;
const mostRatio = 1.2;

const mainOutcomes = ["wasting", "stunting"] as const satisfies readonly OutcomeId[];

/** Labels are not needed to estimate: only which children belong together. */
function codedColumn(codes: Int32Array, count: number): CodedColumn {
  const labels = Array.from({ length: count }, (_, code) => String(code));
  return { name: "", codes, labels, publicLabels: labels, disguised: true };
}

/** The children as they would be with the column in use. */
function withColumn(children: Children, unread: UnreadColumn, rows: Int32Array): Children {
  if (unread.role === "sampling-weight") {
    return { ...children, samplingWeight: Float64Array.from(rows, (row) => unread.values[row] as number) };
  }
  const column = codedColumn(
    Int32Array.from(rows, (row) => unread.codes[row] as number),
    unread.labels,
  );
  return unread.role === "cluster" ? { ...children, cluster: column } : { ...children, stratum: column };
}

/** True where every cluster lies in one of the groups, as clusters lie in strata. */
function holdsClusters({ cluster, stratum }: Children): boolean {
  if (cluster === null || stratum === null) return false;
  const of = new Map<number, number>();
  return cluster.codes.every((code, i) => {
    const own = stratum.codes[i] as number;
    if (code < 0 || own < 0 || (of.get(code) ?? own) === own) {
      if (code >= 0 && own >= 0) of.set(code, own);
      return true;
    }
    return false;
  });
}

function proportion(children: Children, settings: SurveySettings, id: OutcomeId) {
  const { isCase, inDomain } = outcome(children, id, settings.exclusions.default);
  return estimateProportion(designOf(children, settings), isCase, inDomain);
}

/** What using the column would change most: the note on it, or null where it would change little. */
function noteOn(unread: UnreadColumn, children: Children, other: Children, settings: SurveySettings): Note | null {
  for (const estimate of mainOutcomes) {
    const own = proportion(children, settings, estimate);
    const its = proportion(other, settings, estimate);
    if (!(own.standardError > 0) || !(its.standardError > 0)) continue;
    const base = { column: unread.column, estimate };
    if (unread.role === "sampling-weight") {
      if (Math.abs(its.estimate - own.estimate) <= mostShift * own.standardError) continue;
      return note("unread-weight", { ...base, without: own.estimate, with: its.estimate });
    }
    const ratio = its.standardError / own.standardError;
    if (ratio <= mostRatio && ratio >= 1 / mostRatio) continue;
    return note(`unread-${unread.role}`, { ...base, ratio });
  }
  return null;
}

/**
 * Notes on columns that are not read and would change wasting or stunting if they were a part of the design: sampling weights that move
 * the prevalence by more than 0.2 standard errors, clusters or strata that change the standard error by a fifth. Own rule.
 */
export function unreadNotes(survey: Survey, children: Children): Note[] {
  const { unread = [], settings } = survey;
  if (unread.length === 0 || children.count === 0) return [];
  const rowOf = new Map(Array.from(unread[0]?.sheetRow ?? [], (sheetRow, row) => [sheetRow, row] as const));
  const rows = Int32Array.from(children.sheetRow, (sheetRow) => rowOf.get(sheetRow) ?? -1);
  return unread.flatMap((column) => {
    const other = withColumn(children, column, rows);
    const canBe = column.role !== "stratum" || holdsClusters(other);
    const found = canBe ? noteOn(column, children, other, { ...settings, clustersInPopulation: null }) : null;
    return found === null ? [] : [found];
  });
}
