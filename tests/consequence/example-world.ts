import { worldOf } from "../../src/consequence/run.js";
import type { World } from "../../src/consequence/scenario.js";
import type { Children } from "../../src/derive/children.js";
import { derive } from "../../src/derive/derive.js";
import { describe } from "../../src/describe/describe.js";
import { estimates } from "../../src/estimates/index.js";
import type { ExampleFaults } from "../../src/example/options.js";
import type { FieldRecord } from "../../src/example/record.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { readData } from "../../src/read/read-data.js";
import { notStated } from "../../src/results/group.js";
import type { CheckResult, GroupReading } from "../../src/results/schema.js";
import type { SurveySettings } from "../../src/settings/settings.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

export interface WorldGiven {
  readonly seed: number;
  readonly size?: number;
  readonly clusters?: number;
  readonly faults?: ExampleFaults;
  /** Changes what the teams wrote down. */
  readonly change?: (record: FieldRecord, at: number) => FieldRecord;
  readonly checks?: readonly CheckResult[];
  readonly settings?: Partial<SurveySettings>;
  /** The estimates to look at; all headlines where not given. */
  readonly only?: readonly string[];
}

/** A check's result as far as scenarios look at it: its reading, and the groups it names. */
export function found(id: string, groups: readonly Pick<GroupReading, "by" | "label">[] = []): CheckResult {
  const none = {
    quantities: [],
    meaning: [],
    causes: [],
    actions: [],
    method: [],
    sources: [],
    charts: [],
    tables: [],
  };
  return {
    id,
    section: "how",
    reading: "explain",
    finding: { id: "a-finding", values: {} },
    rowsToCheck: 0,
    ...none,
    groups: groups.map((group) => ({
      ...group,
      of: notStated,
      n: 100,
      reading: "explain",
      quantities: [],
    })),
  };
}

const yaml = toYaml({
  title: "Invented survey",
  name: "invented",
  data: "invented.csv",
  remark: "Invented data.",
});

/** An invented survey by way of its text: the program's own reading, describing and deriving. */
export async function exampleChildren(
  given: WorldGiven,
): Promise<{ readonly children: Children; readonly settings: SurveySettings }> {
  const { seed, size = 900, clusters = 36, faults = {} } = given;
  const survey = generateSurvey({ seed, size, clusters, faults });
  const { change } = given;
  const records = change === undefined ? survey.records : survey.records.map(change);
  const table = await readData(new TextEncoder().encode(toCsv({ ...survey, records })), "invented.csv");
  const described = describe(table, parseSurveyFile(yaml, "invented.yaml"));
  return {
    children: derive(described).children,
    settings: { ...described.settings, ...given.settings },
  };
}

export async function exampleWorld(given: WorldGiven): Promise<World> {
  const { children, settings } = await exampleChildren(given);
  const { only } = given;
  const wanted = only === undefined ? estimates : estimates.filter(({ id }) => only.includes(id));
  return worldOf(children, settings, wanted, given.checks ?? []);
}
