import { recognisesName } from "../../src/columns/column-names.js";
import type { Children } from "../../src/derive/children.js";
import { derive } from "../../src/derive/derive.js";
import { describe } from "../../src/describe/describe.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { readData } from "../../src/read/read-data.js";
import { buildReport } from "../../src/report.js";
import type { Results } from "../../src/results/schema.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { randomStream } from "../../src/stats/random.js";

/** A random survey: its published results, and its children, whom the attacker knows by group but not by measure. */
export interface AttackedSurvey {
  readonly results: Results;
  readonly children: Children;
  readonly weighted: boolean;
  readonly codes: boolean;
}

type Draw = ReturnType<typeof randomStream>;

const pick = (draw: Draw, count: number): number => Math.floor(draw.uniform() * count);

/** Columns added to the example: nested in a district, overlapping everything, equal to the district, nearly equal to the team. */
function splitsOf(draw: Draw, district: string, team: string): string[] {
  const zone = `${district.slice(0, 1)}${pick(draw, 3)}`;
  const camp = draw.uniform() < 0.06 ? "inside" : draw.uniform() < 0.1 ? "near" : "outside";
  const shift = draw.uniform() < 0.03 ? "late" : team;
  return [zone, camp, `same ${district}`, shift];
}

/** 120 to 280 children with random small teams, days of few children, few infants, gaps and splits of every kind. */
export async function randomSurvey(seed: number): Promise<AttackedSurvey> {
  const draw = randomStream(seed);
  const size = 120 + pick(draw, 160);
  const weighted = draw.uniform() < 0.3;
  const codes = draw.uniform() < 0.3;
  const [header = "", ...lines] = toCsv(generateSurvey({ seed, size, clusters: 12 }))
    .trimEnd()
    .split("\n");
  const names = header.split(",");
  const at = (name: string): number => names.indexOf(name);
  const gap = draw.uniform() * 0.12;
  const fewInfants = draw.uniform() < 0.5;
  const smallTeam = draw.uniform() * 0.12;
  const rows = lines.flatMap((line) => {
    const cells = line.split(",");
    if (fewInfants && cells[at("child/birth_date")]?.startsWith("2024") && draw.uniform() < 0.7) return [];
    if (draw.uniform() < smallTeam) cells[at("visit/team_code")] = "T9";
    if (draw.uniform() < 0.05) cells[at("place/district")] = "Smallmoor";
    if (draw.uniform() < 0.02) cells[at("place/district")] = "";
    if (draw.uniform() < gap) cells[at("child/weight_kg")] = "";
    if (draw.uniform() < gap) cells[at("child/height_cm")] = "";
    if (draw.uniform() < gap) cells[at("child/arm_mm")] = "";
    cells[at("office/sampling_weight")] = String(1 + pick(draw, 3));
    const added = splitsOf(draw, cells[at("place/district")] ?? "", cells[at("visit/team_code")] ?? "");
    return [[...cells, ...added].join(",")];
  });
  const csv = [[...names, "zone", "camp", "same", "shift"].join(","), ...rows, ""].join("\n");
  const given = { title: "Invented survey", name: "invented", data: "invented.csv", remark: "Invented data." };
  let yaml = toYaml(given).replace(/^(?:clusters-in-population):\n(?:[ ].*\n)+/gm, "");
  yaml += "subgroups: [zone, camp, same, shift]\n";
  if (!weighted) yaml = yaml.replace(/^ {2}sampling-weight:.*\n/m, "");
  const surveyFile = parseSurveyFile(yaml, "invented.yaml");
  const table = await readData(new TextEncoder().encode(csv), "invented.csv", { recognises: recognisesName });
  const { results } = buildReport({
    table,
    surveyFile,
    settingsSha256: null,
    date: null,
    version: "0",
    codes: codes ? ["teams"] : [],
  });
  return {
    results,
    children: derive(describe(table, surveyFile, { codes: codes ? ["teams"] : [] })).children,
    weighted,
    codes,
  };
}
