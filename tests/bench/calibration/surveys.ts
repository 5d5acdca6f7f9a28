import { worldOf } from "../../../src/consequence/run.js";
import type { World } from "../../../src/consequence/scenario.js";
import { derive } from "../../../src/derive/derive.js";
import { inOrderOfContent } from "../../../src/derive/row-order.js";
import { describe } from "../../../src/describe/describe.js";
import { estimates } from "../../../src/estimates/index.js";
import { type Fieldwork, quillmar } from "../../../src/example/place.js";
import { generateSurvey } from "../../../src/example/survey.js";
import { toCsv } from "../../../src/example/to-csv.js";
import { toYaml } from "../../../src/example/to-yaml.js";
import { readData } from "../../../src/read/read-data.js";
import { parseSurveyFile } from "../../../src/settings/survey-file.js";
import { randomStream } from "../../../src/stats/random.js";
import { type Fault, faults } from "./faults.js";
import { runChecks } from "./run-checks.js";

/** How many faults a survey of the bench gets. */
export type Condition = "clean" | "faulty";

export interface BenchSurvey {
  readonly seed: number;
  readonly faults: readonly Fault[];
  /** How far the population lies from the invented place's, in z. */
  readonly shift: { readonly weightForHeight: number; readonly heightForAge: number };
  readonly world: World;
}

const yaml = toYaml({ title: "Bench survey", name: "bench", data: "bench.csv", remark: "Invented data." });

function placeWith(weightForHeight: number, heightForAge: number): Fieldwork {
  const [first, ...others] = quillmar.districts.map((district) => ({
    ...district,
    weightForHeightShift: district.weightForHeightShift + weightForHeight,
    heightForAgeShift: district.heightForAgeShift + heightForAge,
  }));
  if (first === undefined) throw new Error("The invented place has districts.");
  return { ...quillmar, districts: [first, ...others] };
}

async function childrenOf(csv: string) {
  const table = await readData(new TextEncoder().encode(csv), "bench.csv");
  const described = describe(table, parseSurveyFile(yaml, "bench.yaml"));
  const { children } = derive(inOrderOfContent(described));
  return { children, settings: described.settings };
}

/** One survey of the bench, from its seed alone. */
export async function benchSurvey(seed: number, condition: Condition): Promise<BenchSurvey> {
  const random = randomStream(seed ^ 0x5eed);
  const shift = {
    weightForHeight: -0.35 + 0.7 * random.uniform(),
    heightForAge: -0.5 + 0.9 * random.uniform(),
  };
  const clusters = 30 + random.below(31);
  const survey = generateSurvey({
    seed,
    size: clusters * (12 + random.below(13)),
    clusters,
    fieldwork: placeWith(shift.weightForHeight, shift.heightForAge),
  });
  const count = condition === "clean" ? 0 : 1 + random.below(3);
  const planted: Fault[] = [];
  while (planted.length < count) {
    const fault = faults[random.below(faults.length)] as Fault;
    if (!planted.includes(fault)) planted.push(fault);
  }
  let { records } = survey;
  for (const fault of planted) records = fault.plant(records, survey.children, random);
  const { children, settings } = await childrenOf(toCsv({ ...survey, records }));
  const found = runChecks(children, settings);
  return { seed, faults: planted, shift, world: worldOf(children, settings, estimates, found) };
}

/** The prevalences of the population, as careful teams would measure them in a sample without end. */
export interface Truth {
  wasting(shift: BenchSurvey["shift"]): number;
  stunting(shift: BenchSurvey["shift"]): number;
}

/** Clean samples that the truth is taken from: so many that its own sampling error is a twentieth of a survey's. */
const truthSeeds = [900_001, 900_002, 900_003, 900_004, 900_005, 900_006, 900_007, 900_008];

/** From clean samples of some ten thousands of children each, in very many clusters, moved by the shift. */
export async function truthOf(size = 60_000, clusters = 3_000): Promise<Truth> {
  const samples: Awaited<ReturnType<typeof scoresOf>>[] = [];
  for (const seed of truthSeeds) samples.push(await scoresOf(seed, size, clusters));
  const below = (index: "weight-for-height" | "height-for-age", shift: number): number => {
    let cases = 0;
    let all = 0;
    for (const sample of samples) {
      const z = sample[index];
      for (let i = 0; i < z.length; i++) {
        const value = (z[i] as number) + shift;
        if (Number.isNaN(value)) continue;
        const weight = sample.weight[i] as number;
        all += weight;
        // Scores are rounded to two decimals before they are compared, and -2.00 is no case.
        if (Math.round(value * 100) < -200) cases += weight;
      }
    }
    return cases / all;
  };
  return {
    wasting: ({ weightForHeight }) => below("weight-for-height", weightForHeight),
    stunting: ({ heightForAge }) => below("height-for-age", heightForAge),
  };
}

/** The z-scores that count in one clean sample, NaN for the others, and the weights. */
async function scoresOf(seed: number, size: number, clusters: number) {
  const { children } = await childrenOf(toCsv(generateSurvey({ seed, size, clusters })));
  const kept = (index: "weight-for-height" | "height-for-age"): Float64Array =>
    children.indices[index].z.map((z, i) => (children.indices[index].outsideFixed[i] === 1 ? Number.NaN : z));
  return {
    "weight-for-height": kept("weight-for-height"),
    "height-for-age": kept("height-for-age"),
    weight: Float64Array.from({ length: children.count }, (_, i) => children.samplingWeight?.[i] ?? 1),
  };
}
