import type { TextTable } from "../read/table.js";
import { type Note, note } from "../settings/notes.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import { nowhere, type RoleSpec } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import { cellsOf } from "./cells.js";
import { matchName } from "./column-names.js";
import { letters, publicLabels, readLabels } from "./labels.js";
import type { CodedColumn } from "./survey.js";

/** How cluster labels and the labels of a place go together. */
interface Repeats {
  /** Cluster labels with two rows or more in each of several places. */
  readonly repeated: number;
  /** Cluster labels with two rows or more. */
  readonly labels: number;
  /** Clusters where the same label in two places is two. */
  readonly clusters: number;
}

function repeatsIn(cluster: CodedColumn, place: CodedColumn): Repeats {
  const rows = new Map<number, Map<number, number>>();
  cluster.codes.forEach((code, row) => {
    const at = place.codes[row] ?? -1;
    if (code < 0 || at < 0) return;
    const places = rows.get(code) ?? new Map<number, number>();
    rows.set(code, places.set(at, (places.get(at) ?? 0) + 1));
  });
  let [repeated, labels, clusters] = [0, 0, 0];
  for (const places of rows.values()) {
    const filled = [...places.values()].filter((count) => count > 1).length;
    repeated += filled > 1 ? 1 : 0;
    labels += filled > 0 ? 1 : 0;
    clusters += places.size;
  }
  return { repeated, labels, clusters };
}

/** Half of the labels, and two at least, stand in several places: numbers that start anew in each, not single slips. Own rule. */
function startAnew({ repeated, labels }: Repeats): boolean {
  return repeated > 1 && repeated * 2 >= labels;
}

/** The clusters of each place by themselves: printed as the cluster's label with a letter for the place. */
function apart(cluster: CodedColumn, place: CodedColumn): CodedColumn {
  const pairOf = (row: number): number =>
    (cluster.codes[row] as number) < 0
      ? -1
      : ((place.codes[row] as number) + 1) * cluster.labels.length + (cluster.codes[row] as number);
  const pairs = [...new Set(Array.from(cluster.codes, (_, row) => pairOf(row)))].filter((pair) => pair >= 0);
  pairs.sort((a, b) => a - b);
  const codeOf = new Map(pairs.map((pair, code) => [pair, code]));
  const partsOf = (pair: number) => {
    const at = Math.floor(pair / cluster.labels.length) - 1;
    return { at, label: cluster.labels[pair % cluster.labels.length] ?? "" };
  };
  const shown = publicLabels(
    pairs.map((pair) => {
      const { at, label } = partsOf(pair);
      return at < 0 ? label : `${label}-${at < 26 ? letters(at) : at + 1}`;
    }),
  );
  return {
    name: cluster.name,
    codes: Int32Array.from(cluster.codes, (_, row) => codeOf.get(pairOf(row)) ?? -1),
    labels: pairs.map((pair) => {
      const { at, label } = partsOf(pair);
      return at < 0 ? label : `${place.labels[at]} / ${label}`;
    }),
    publicLabels: shown.labels,
    disguised: shown.disguised,
  };
}

/** The clusters as they are to be counted. */
export interface ClustersWithin {
  readonly cluster: CodedColumn;
  /** The column in which their labels start anew; null where one label is one cluster. */
  readonly within: CodedColumn | null;
  readonly problems: readonly InputProblem[];
  readonly notes: readonly Note[];
}

/** Columns of places by their names, in which cluster numbers may start anew. */
function placeColumns(table: TextTable, cluster: string, missing: readonly string[]): CodedColumn[] {
  return table.columns.flatMap(({ name }) => {
    const isPlace = matchName(name).some(({ role }) => role === "area" || role === "stratum");
    const cells = isPlace && name !== cluster ? cellsOf(table, name) : null;
    return cells === null ? [] : [readLabels(cells, missing, true).column];
  });
}

function split(cluster: CodedColumn, within: CodedColumn): ClustersWithin {
  const column = apart(cluster, within);
  const values = { column: showValue(within.name), labels: cluster.labels.length, clusters: column.labels.length };
  return { cluster: column, within, problems: [], notes: [note("clusters-within", values)] };
}

/** Says of single labels that stand in two strata: each is a cluster in both, by a slip perhaps. */
function inSeveralStrata(cluster: CodedColumn, stratum: CodedColumn): Note[] {
  const { clusters } = repeatsIn(cluster, stratum);
  const met = new Set(cluster.codes.filter((code, row) => code >= 0 && (stratum.codes[row] as number) >= 0)).size;
  return clusters > met ? [note("clusters-in-several-strata", { count: clusters - met })] : [];
}

/**
 * Clusters whose numbers start anew in every district are as many as there are pairs of the two. The settings say so, or the strata
 * do, since clusters lie within strata; where another column suggests it, the user is asked, since fewer clusters than there
 * are make the intervals wrong.
 */
export function clustersWithin(
  table: TextTable,
  cluster: CodedColumn,
  stratum: CodedColumn | null,
  spec: RoleSpec,
): ClustersWithin {
  const asTheyAre = { cluster, within: null, problems: [], notes: [] };
  const { within } = spec;
  if (within === nowhere) return asTheyAre;
  if (within !== undefined) {
    const cells = cellsOf(table, within);
    return cells === null ? asTheyAre : split(cluster, readLabels(cells, spec.missing, true).column);
  }
  if (stratum !== null) {
    if (startAnew(repeatsIn(cluster, stratum))) return split(cluster, stratum);
    return { ...asTheyAre, notes: inSeveralStrata(cluster, stratum) };
  }
  const found = placeColumns(table, spec.column, spec.missing)
    .map((place) => ({ name: place.name, repeats: repeatsIn(cluster, place) }))
    .filter(({ repeats }) => startAnew(repeats));
  const [first] = found;
  if (first === undefined) return asTheyAre;
  const { repeated, labels, clusters } = first.repeats;
  const details = { role: "cluster", repeated, labels, clusters, candidates: found.map(({ name }) => name) };
  return {
    ...asTheyAre,
    problems: [inputProblem("cluster-numbers-repeat", table.file, { column: spec.column, details })],
  };
}
