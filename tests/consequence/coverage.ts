import { ages } from "../../src/consequence/ages.js";
import { digits } from "../../src/consequence/digits.js";
import { runScenario } from "../../src/consequence/run.js";
import type { ScenarioFile, World } from "../../src/consequence/scenario.js";
import { spread } from "../../src/consequence/spread.js";
import { instruments, prevalenceByError } from "../../src/consequence/tipping-points.js";
import type { CheckResult } from "../../src/results/schema.js";
import { randomStream, seedFor } from "../../src/stats/random.js";
import { exampleWorld, found, type WorldGiven } from "./example-world.js";

/** A known fault, the scenario that follows it up, and the estimates it bears on. */
export interface Recovery {
  readonly name: string;
  readonly file: ScenarioFile;
  readonly scenario: string;
  readonly estimates: readonly string[];
  /** The fault, planted anew for each survey. */
  readonly plant: (seed: number) => Pick<WorldGiven, "faults" | "change">;
  /** What the checks are taken to have found. */
  readonly checks: readonly CheckResult[];
}

/** How a scenario did over many repeats of one fault. */
export interface Recovered {
  readonly name: string;
  readonly estimate: string;
  readonly repeats: number;
  /** Mean estimate of the twins without the fault: the truth. */
  readonly truth: number;
  /** Mean error of the faulty survey's estimate against its own clean twin, and of the scenario's. */
  readonly faultyBias: number;
  readonly scenarioBias: number;
  /** Its Monte-Carlo standard error. */
  readonly biasError: number;
  /** Share of 95 % intervals that hold the truth: the faulty survey's own, and the scenario's. */
  readonly faultyCoverage: number;
  readonly scenarioCoverage: number;
}

type Change = NonNullable<WorldGiven["change"]>;

/** The nearest multiple of a unit; of two equally near ones either, as the coin falls. */
function nearest(value: number, unit: number, coin: number): number {
  const down = Math.floor(value / unit + 1e-9);
  const rest = value / unit - down;
  const up = Math.abs(rest - 0.5) < 1e-6 ? coin < 0.5 : rest > 0.5;
  return Math.round((down + Number(up)) * unit * 1000) / 1000;
}

/** A measure rounded to a unit in a share of the children, of one team or of all. */
function rounding(
  seed: number,
  measure: "weight" | "height" | "arm",
  unit: number,
  share: number,
  team?: string,
): Change {
  const random = randomStream(seedFor(seed, "planted rounding"));
  return (record) => {
    const chosen = random.uniform() < share;
    const coin = random.uniform();
    if (!chosen || (team !== undefined && record.team !== team)) return record;
    return { ...record, [measure]: nearest(record[measure], unit, coin) };
  };
}

const all = (id: string): readonly CheckResult[] => [found(id)];

/** Random errors of the weight, standard deviation in proportion to the weight: about 0.66 z. */
function noisyWeights(seed: number): Change {
  const random = randomStream(seedFor(seed, "planted error"));
  return (record) => ({
    ...record,
    weight: Math.round(10 * record.weight * (1 + 0.062 * random.normal())) / 10,
  });
}

export const recoveries: readonly Recovery[] = [
  {
    name: "all heights in whole centimetres",
    file: digits,
    scenario: "digits/height",
    estimates: ["wasting", "stunting"],
    plant: (seed) => ({ change: rounding(seed, "height", 1, 1) }),
    checks: all("height-digits"),
  },
  {
    name: "one team's heights in whole centimetres, 70 %",
    file: digits,
    scenario: "digits/height",
    estimates: ["wasting", "stunting"],
    plant: (seed) => ({ change: rounding(seed, "height", 1, 0.7, "T4") }),
    checks: [found("height-digits", [{ by: "team", label: "T4" }])],
  },
  {
    name: "all weights in whole kilograms",
    file: digits,
    scenario: "digits/weight",
    estimates: ["wasting", "underweight"],
    plant: (seed) => ({ change: rounding(seed, "weight", 1, 1) }),
    checks: all("weight-digits"),
  },
  {
    name: "weights in half kilograms, 70 %",
    file: digits,
    scenario: "digits/weight",
    estimates: ["wasting", "underweight"],
    plant: (seed) => ({ change: rounding(seed, "weight", 0.5, 0.7) }),
    checks: all("weight-digits"),
  },
  {
    name: "all arm circumferences in whole centimetres",
    file: digits,
    scenario: "digits/arm",
    estimates: ["acute-malnutrition-by-arm-circumference"],
    plant: (seed) => ({ change: rounding(seed, "arm", 10, 1) }),
    checks: all("arm-digits"),
  },
  {
    name: "arm circumferences to 5 mm, 60 %",
    file: digits,
    scenario: "digits/arm",
    estimates: ["acute-malnutrition-by-arm-circumference"],
    plant: (seed) => ({ change: rounding(seed, "arm", 5, 0.6) }),
    checks: all("arm-digits"),
  },
  {
    name: "ages of one district pulled to years and half years, 60 %",
    file: ages,
    scenario: "ages/heaped",
    estimates: ["stunting", "underweight"],
    plant: () => ({
      faults: { ageHeaping: { district: "Yundeth", share: 0.6 } },
    }),
    checks: [found("age-heaping", [{ by: "stratum", label: "Yundeth" }])],
  },
  {
    name: "random weighing errors, normal model",
    file: spread,
    scenario: "spread/normal",
    estimates: ["wasting"],
    plant: (seed) => ({ change: noisyWeights(seed) }),
    checks: [],
  },
  {
    name: "random weighing errors, extrapolation",
    file: spread,
    scenario: "spread/extrapolated",
    estimates: ["wasting"],
    plant: (seed) => ({ change: noisyWeights(seed) }),
    checks: [],
  },
];

const inside = (value: number, low: number | null, high: number | null): boolean =>
  low !== null && high !== null && value >= low && value <= high;

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

function publishedOf(world: World, estimate: string) {
  const headline = world.headlines.find((one) => one.estimate.id === estimate);
  if (headline === undefined) throw new Error(`There is no estimate '${estimate}'.`);
  return headline.published;
}

/** The clean twin, the faulty survey and the scenario for one seed. */
async function one(recovery: Recovery, seed: number) {
  const { plant, checks, file, scenario, estimates } = recovery;
  const clean = await exampleWorld({ seed, only: estimates });
  const faulty = await exampleWorld({
    ...plant(seed),
    checks,
    seed,
    only: estimates,
  });
  const run = file(faulty).find(({ id }) => id === scenario);
  if (run === undefined) throw new Error(`There is no scenario '${scenario}'.`);
  const outcomes = runScenario(run, faulty).outcomes;
  return estimates.map((estimate) => {
    const outcome = outcomes.find((found) => found.estimate === estimate);
    if (outcome === undefined) throw new Error(`'${scenario}' says nothing of '${estimate}'.`);
    return {
      clean: publishedOf(clean, estimate),
      faulty: publishedOf(faulty, estimate),
      outcome,
    };
  });
}

/** Repeats one fault over many invented surveys. */
export async function recover(recovery: Recovery, repeats: number, firstSeed = 1): Promise<readonly Recovered[]> {
  const runs: Awaited<ReturnType<typeof one>>[] = [];
  for (let seed = firstSeed; seed < firstSeed + repeats; seed++) runs.push(await one(recovery, seed));
  return recovery.estimates.map((estimate, e) => {
    const own = runs.flatMap((run) => run[e] ?? []);
    const truth = mean(own.map(({ clean }) => clean.value));
    const errors = own.map(({ clean, outcome }) => outcome.value - clean.value);
    const scenarioBias = mean(errors);
    const share = (hits: readonly boolean[]): number => mean(hits.map(Number));
    return {
      name: recovery.name,
      estimate,
      repeats,
      truth,
      faultyBias: mean(own.map(({ clean, faulty }) => faulty.value - clean.value)),
      scenarioBias,
      biasError: Math.sqrt(mean(errors.map((error) => (error - scenarioBias) ** 2)) / repeats),
      faultyCoverage: share(own.map(({ faulty }) => inside(truth, faulty.low, faulty.high))),
      scenarioCoverage: share(own.map(({ outcome }) => inside(truth, outcome.low, outcome.high))),
    };
  });
}

/** The prevalence after taking a known error off one instrument again. */
export function putRight(
  world: World,
  estimate: string,
  instrument: keyof typeof instruments,
  error: number,
  team: number | null,
): number {
  const headline = world.headlines.find((one) => one.estimate.id === estimate);
  if (headline === undefined) throw new Error(`There is no estimate '${estimate}'.`);
  return prevalenceByError(world, headline, instrument, team)(Math.round(error * instruments[instrument].stepsPerUnit));
}
