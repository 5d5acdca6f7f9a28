import type { TextTable } from "../read/table.js";
import { type Note, note } from "../settings/notes.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { SurveyFile } from "../settings/survey-file.js";
import { type ClusterList, clusterPlace, type ListedCluster, readClusterList } from "./cluster-list.js";
import { isCodeLike } from "./labels.js";
import { naturalOrder } from "./natural-order.js";
import type { CodedColumn } from "./survey.js";

/** A cluster of the plan, and what the data hold of it. */
export interface PlannedCluster {
  /** Label that may be printed; null where there is none. */
  readonly label: string | null;
  /** Stratum as the plan names it; null without strata. */
  readonly stratum: string | null;
  /** True for a cluster held in reserve. */
  readonly replacement: boolean;
  /** Rows of the data that name it: with one or more it was reached. */
  readonly rows: number;
  /** Households; NaN where it is not known. */
  readonly plannedHouseholds: number;
  readonly reachedHouseholds: number;
  readonly householdsInFrame: number;
}

/** Where the survey was to go, and where it went. Counted over all rows of the file, whatever the children's ages. */
export interface SamplePlan {
  /** From a list of clusters, or from numbers in the settings alone: then the clusters not reached have no label. */
  readonly from: "list" | "numbers";
  /** False when only the households of a cluster are planned: then `clusters` are those of the data. */
  readonly clustersKnown: boolean;
  readonly clusters: readonly PlannedCluster[];
  /** Clusters of the data that the plan does not have. */
  readonly unplanned: readonly { readonly label: string | null; readonly rows: number }[];
  /** How households reached are known: from the list, counted in the data, or not at all. */
  readonly householdsFrom: "list" | "data" | "nothing";
  /** True when the households planned are those with children, so that rows of children can show whether they were reached. */
  readonly plannedHaveChildren: boolean;
}

/** The columns of the data that the plan is held against. */
export interface PlaceColumns {
  readonly cluster: CodedColumn | null;
  readonly stratum: CodedColumn | null;
  readonly household: CodedColumn | null;
  /** The clusters' labels as a list has them, where numbers that start anew in every stratum were told apart. */
  readonly clusterAsListed?: CodedColumn;
}

/** What the data hold of one cluster. */
interface Found {
  readonly label: string;
  readonly publicLabel: string | null;
  readonly stratum: string | null;
  rows: number;
  readonly households: Set<number>;
}

/** The data's clusters, in natural order; the same label in two strata is two clusters where `byStratum` says so. */
function clustersFound(columns: PlaceColumns, byStratum: boolean): Map<string, Found> {
  const { cluster, stratum, household } = columns;
  const listed = columns.clusterAsListed ?? cluster;
  const found = new Map<string, Found>();
  cluster?.codes.forEach((code, row) => {
    const label = listed?.labels[listed.codes[row] ?? -1];
    if (label === undefined) return;
    const of = stratum?.labels[stratum.codes[row] ?? -1] ?? null;
    const key = clusterPlace(label, of, byStratum);
    const known = found.get(key) ?? {
      label,
      publicLabel: cluster.publicLabels[code] ?? null,
      stratum: of,
      rows: 0,
      households: new Set<number>(),
    };
    known.rows += 1;
    const home = household?.codes[row] ?? -1;
    if (home >= 0) known.households.add(home);
    found.set(key, known);
  });
  return new Map([...found].sort(([a], [b]) => naturalOrder(a, b)));
}

/** A label of the list that no data hold may be printed where it names nobody and the data's own labels are printed too. */
function printable(label: string, cluster: CodedColumn | null): string | null {
  return isCodeLike(label) && cluster?.disguised !== true ? label : null;
}

function fromList(
  list: ClusterList,
  columns: PlaceColumns,
  perCluster: number,
): Omit<SamplePlan, "plannedHaveChildren"> {
  const found = clustersFound(columns, list.byStratum);
  const counted = columns.household !== null;
  const clusters = list.clusters.map((listed: ListedCluster): PlannedCluster => {
    const key = clusterPlace(listed.label, listed.stratum, list.byStratum);
    const data = found.get(key);
    found.delete(key);
    const households = data === undefined ? 0 : data.households.size;
    return {
      label: data === undefined ? printable(listed.label, columns.cluster) : data.publicLabel,
      stratum: listed.stratum,
      replacement: listed.replacement,
      rows: data?.rows ?? 0,
      plannedHouseholds: Number.isNaN(listed.plannedHouseholds) ? perCluster : listed.plannedHouseholds,
      reachedHouseholds: list.countsReached ? listed.reachedHouseholds : counted ? households : Number.NaN,
      householdsInFrame: listed.householdsInFrame,
    };
  });
  const unplanned = [...found.values()].map(({ publicLabel, rows }) => ({ label: publicLabel, rows }));
  return {
    from: "list",
    clustersKnown: true,
    clusters,
    unplanned,
    householdsFrom: list.countsReached ? "list" : counted ? "data" : "nothing",
  };
}

/** Numbers alone: the data's clusters fill the plan, the rest of it was not reached; clusters beyond the plan are unplanned. */
function fromNumbers(
  planned: ReadonlyMap<string | null, number> | null,
  columns: PlaceColumns,
  perCluster: number,
): Omit<SamplePlan, "plannedHaveChildren"> {
  const ofStratum = planned !== null && !planned.has(null);
  const left = new Map(planned);
  const clusters: PlannedCluster[] = [];
  const unplanned: { label: string | null; rows: number }[] = [];
  const make = (stratum: string | null, data: Found | null): PlannedCluster => ({
    label: data?.publicLabel ?? null,
    stratum,
    replacement: false,
    rows: data?.rows ?? 0,
    plannedHouseholds: perCluster,
    reachedHouseholds: columns.household === null ? Number.NaN : (data?.households.size ?? 0),
    householdsInFrame: Number.NaN,
  });
  for (const data of clustersFound(columns, columns.stratum !== null).values()) {
    const stratum = ofStratum ? data.stratum : null;
    const places = left.get(stratum) ?? 0;
    if (planned !== null) left.set(stratum, places - 1);
    if (places > 0 || planned === null) clusters.push(make(stratum, data));
    else unplanned.push({ label: data.publicLabel, rows: data.rows });
  }
  for (const [stratum, places] of left) for (let i = 0; i < places; i++) clusters.push(make(stratum, null));
  const clustersKnown = planned !== null;
  return {
    from: "numbers",
    clustersKnown,
    clusters,
    unplanned,
    householdsFrom: columns.household === null ? "nothing" : "data",
  };
}

/** Clusters planned, by stratum; under null where they are not given by stratum. Null when not given at all. */
function plannedNumbers(survey: SurveyFile): Map<string | null, number> | null {
  const given = survey.values.planned?.clusters;
  if (given === undefined) return null;
  return typeof given === "number" ? new Map([[null, given]]) : new Map(Object.entries(given));
}

/** The plan with what has to be mended in it, and what is to be said of it. */
export interface ReadPlan {
  readonly plan: SamplePlan | null;
  readonly problems: readonly InputProblem[];
  readonly notes: readonly Note[];
}

const none: ReadPlan = { plan: null, problems: [], notes: [] };

/**
 * The plan of the sample: from the list of clusters, joined to the data by the clusters' labels, else from the numbers in
 * the settings. A list of which the data have no cluster at all is a problem: the wrong column, or the wrong list.
 */
export function samplePlan(survey: SurveyFile | null, listTable: TextTable | null, columns: PlaceColumns): ReadPlan {
  if (survey === null || (listTable === null && survey.values.planned === undefined)) return none;
  if (columns.cluster === null) return { ...none, notes: [note("plan-without-clusters")] };
  const perCluster = survey.values.planned?.["households-per-cluster"] ?? Number.NaN;
  const plannedHaveChildren = survey.values.planned?.households === "with-children";
  if (listTable === null) {
    return { ...none, plan: { ...fromNumbers(plannedNumbers(survey), columns, perCluster), plannedHaveChildren } };
  }
  const list = readClusterList(listTable, survey);
  if (list.problems.length > 0) return { ...none, problems: list.problems };
  const plan = { ...fromList(list, columns, perCluster), plannedHaveChildren };
  if (!plan.clusters.some(({ rows }) => rows > 0)) {
    const details = { dataColumn: columns.cluster.name, listed: plan.clusters.length };
    const column = survey.values.clusters?.columns.cluster ?? "";
    return { ...none, problems: [inputProblem("cluster-list-unmatched", listTable.file, { column, details })] };
  }
  const replacements = plan.clusters.filter(({ replacement }) => replacement).length;
  const said = note("cluster-list", {
    file: listTable.file,
    planned: plan.clusters.length - replacements,
    replacements,
  });
  return { plan, problems: [], notes: [said] };
}
