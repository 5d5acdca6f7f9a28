import { describe, expect, it } from "vitest";
import { describe as describeTable } from "../../src/describe/describe.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { kindsOfList, listOf } from "./make-list.js";
import { children, describeProblems, kinds, mustHaveWords, problemsOf, surveyOf, tableOf } from "./make-table.js";

const settings = (more: string) => `data: data.csv
columns:
  cluster: cluster
  stratum: stratum
  household: house
  sex: sex
  weight: weight
  height: height
${more}`;
const data = {
  ...children,
  stratum: ["N", "N", "N", "N", "S", "S"],
  house: [1, 2, 1, 1, 4, 5],
};
const list = (more = "") => `clusters:
  file: clusters.csv
  columns:
    cluster: code
    stratum: district
    planned-households: households
    replacement: reserve
${more}`;

async function planOf(columns: Parameters<typeof tableOf>[0], more: string, clusterList: Parameters<typeof listOf>[0]) {
  const survey = describeTable(await tableOf(columns), parseSurveyFile(settings(more), "survey.yaml"), {
    clusterList: await listOf(clusterList),
  });
  survey.settings.notes.forEach(mustHaveWords);
  if (survey.plan === undefined || survey.plan === null) throw new Error("no plan");
  return survey.plan;
}

const full = {
  code: ["01", "2", "4", "5", "9"],
  district: ["N", "N", "N", "S", "S"],
  households: [3, 2, 4, 2, 2],
  reserve: ["", "no", "no", "no", "oui"],
};

describe("a list of clusters", () => {
  it("is joined to the data by the clusters' codes, however a number is written", async () => {
    const plan = await planOf(data, list(), full);
    expect(plan.from).toBe("list");
    expect(plan.clusters.map(({ rows }) => rows)).toEqual([2, 2, 0, 0, 0]);
    // House 1 twice in cluster 2: two children of one household.
    expect(plan.clusters.map(({ reachedHouseholds }) => reachedHouseholds)).toEqual([2, 1, 0, 0, 0]);
    expect(plan.clusters.map(({ plannedHouseholds }) => plannedHouseholds)).toEqual([3, 2, 4, 2, 2]);
    expect(plan.clusters.map(({ replacement }) => replacement)).toEqual([false, false, false, false, true]);
    expect(plan.unplanned).toEqual([{ label: "3", rows: 2 }]);
    expect(plan).toMatchObject({ householdsFrom: "data", plannedHaveChildren: false, clustersKnown: true });
  });

  it("counts rows of any age, and tells two clusters of one code apart by their strata", async () => {
    const shared = { ...full, code: [1, 2, 3, 3, 9] };
    const plan = await planOf(data, list(), shared);
    // The data's cluster 3 lies in stratum S alone.
    expect(plan.clusters.map(({ rows }) => rows)).toEqual([2, 2, 0, 2, 0]);
    expect(plan.unplanned).toEqual([]);
  });

  it("prints no name of a place that only the list holds", async () => {
    const plan = await planOf(data, list(), { ...full, code: ["01", "2", "Old Mill", "5", "9"] });
    expect(plan.clusters.map(({ label }) => label)).toEqual(["1", "2", null, "5", "9"]);
    const named = { ...data, cluster: ["Old Mill", "Old Mill", "2", "2", "3", "3"] };
    const disguised = await planOf(named, list(), { ...full, code: ["Old Mill", "2", "4", "5", "9"] });
    expect(disguised.clusters.map(({ label }) => label)).toEqual(["A", "2", null, null, null]);
  });

  it("may count the households reached itself", async () => {
    const more = `${list().replace("reserve", "reserve\n    reached-households: done")}`;
    const plan = await planOf(data, more, { ...full, done: [3, "", 0, 0, 0] });
    expect(plan.householdsFrom).toBe("list");
    expect(plan.clusters.map(({ reachedHouseholds }) => reachedHouseholds)).toEqual([3, Number.NaN, 0, 0, 0]);
  });

  it.each([
    ["no code in common", { ...full, code: [11, 12, 13, 14, 15] }, ["cluster-list-unmatched"]],
    ["a cluster twice", { ...full, code: [1, 2, "02", 5, 9] }, ["cluster-list-twice"]],
    ["half a household", { ...full, households: [3, 2.5, -1, 2, "few"] }, Array(3).fill("cluster-list-number")],
    ["a word for neither yes nor no", { ...full, reserve: ["no", "maybe", "no", "no", "yes"] }, ["cluster-list-code"]],
    ["a column that is not there", { code: [1], district: ["N"], households: [2] }, ["column-not-found"]],
  ])("with %s is put to the user", async (_, clusterList, expected) => {
    expect(await kindsOfList(settings(list()), data, clusterList)).toEqual(expected);
  });

  it("is passed over, with a note, where the data name no cluster", async () => {
    const text = `data: data.csv\ncolumns:\n  sex: sex\n  weight: weight\n  height: height\n${list()}`;
    const survey = describeTable(await tableOf(data), parseSurveyFile(text, "survey.yaml"), {
      clusterList: await listOf(full),
    });
    expect(survey.plan).toBeNull();
    expect(survey.settings.notes.map(({ id }) => id)).toContain("input.note.plan-without-clusters");
  });
});

describe("planned numbers", () => {
  it("leave what was not reached without a name", async () => {
    const { plan } = await surveyOf(data, settings("planned: { clusters: { N: 3, S: 1 }, households-per-cluster: 2 }"));
    expect(plan?.clusters.map(({ stratum, rows }) => [stratum, rows])).toEqual([
      ["N", 2],
      ["N", 2],
      ["S", 2],
      ["N", 0],
    ]);
    expect(plan?.clusters.every(({ plannedHouseholds }) => plannedHouseholds === 2)).toBe(true);
    const fewer = await surveyOf(data, settings("planned: { clusters: 2 }"));
    expect(fewer.plan?.unplanned).toEqual([{ label: "3", rows: 2 }]);
  });

  it("of households alone say nothing of the clusters planned", async () => {
    const { plan } = await surveyOf(
      data,
      settings("planned: { households-per-cluster: 2, households: with-children }"),
    );
    expect(plan).toMatchObject({ clustersKnown: false, plannedHaveChildren: true, unplanned: [] });
    expect(plan?.clusters.length).toBe(3);
  });

  it("by strata that the data do not have are put to the user", async () => {
    const problems = await describeProblems(data, settings("planned:\n  clusters:\n    N: 3\n    West: 1\n"));
    expect(problems).toMatchObject([
      { kind: "settings-stratum-unknown", line: 12, value: "West", details: { place: "planned > clusters" } },
    ]);
  });

  it("must be whole", async () => {
    expect(kinds(await problemsOf(() => parseSurveyFile(settings("planned: { clusters: 2.5 }"), "s.yaml")))).toEqual([
      "settings-wrong-type",
    ]);
  });
});

describe("children by stratum", () => {
  it("need a number for every stratum of the data, and no other", async () => {
    const given = (numbers: string) => settings(`children-in-population: ${numbers}`);
    expect(kinds(await describeProblems(data, given("{ N: 900 }")))).toEqual(["settings-missing-key"]);
    expect(kinds(await describeProblems(data, given("{ N: 900, S: 300, W: 2 }")))).toEqual([
      "settings-stratum-unknown",
    ]);
    const { settings: made } = await surveyOf(data, given("{ N: 900, S: 300 }"));
    expect(made.childrenInPopulation).toEqual({ N: 900, S: 300 });
    expect(made.notes.map(({ id }) => id)).toContain("input.note.weights-from-population");
  });
});

describe("a frame with fewer households than were visited", () => {
  it("is refused with the row and both numbers; an unknown number of either is not", async () => {
    const framed = list().replace(
      "    replacement: reserve\n",
      "    replacement: reserve\n    households-in-frame: frame\n",
    );
    const problems = await problemsOf(() => planOf(data, framed, { ...full, frame: [40, 1, "", 2, 30] }));
    expect(problems).toMatchObject([
      { kind: "cluster-list-frame", row: 3, column: "frame", value: "1", details: { most: 2 } },
    ]);
  });
});
