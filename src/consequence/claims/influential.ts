import { outcome } from "../../derive/outcome.js";
import type { Consequence, ScenarioResult } from "../../results/schema.js";
import { studentQuantile } from "../../stats/student-t.js";
import { type Part, partsOf, withoutEach } from "../influence.js";
import type { World } from "../scenario.js";

type Influence = Consequence["influence"][number];

/** In so many of 100 surveys the largest of all parts passes the limit by chance alone. */
const falsely = 0.05;

/** Share of the weights of an estimate's children that each part has. */
function sharesOf(world: World, codes: ArrayLike<number>, count: number, inDomain: Uint8Array): Float64Array {
  const shares = new Float64Array(count);
  let all = 0;
  for (let i = 0; i < inDomain.length; i++) {
    const weight = world.design.weight[i] ?? 0;
    if (inDomain[i] !== 1 || !(weight > 0)) continue;
    all += weight;
    const code = codes[i] ?? -1;
    if (code >= 0) shares[code] = (shares[code] ?? 0) + weight;
  }
  return shares.map((weight) => weight / all);
}

/** The limit that the largest of T independent t variables passes with the chance `falsely`: each with 1 - (1 - falsely)^(1/T). */
export function largestByChance(parts: number, degreesOfFreedom: number): number {
  const each = 1 - (1 - falsely) ** (1 / parts);
  return studentQuantile(1 - each / 2, degreesOfFreedom);
}

/** The scenario that leaves the part out: by its name, or as the extreme that it is; none where that is not told. */
function scenarioOf(
  part: Part,
  code: number,
  shift: number,
  told: readonly ScenarioResult[],
): ScenarioResult | undefined {
  const name = part.named[code]?.[0];
  const ids = [`leave-out-${part.name}/${name}`, `leave-out-${part.name}/${shift < 0 ? "lowest" : "highest"}`];
  return told.find(({ id, outcomes }) => ids.includes(id) && outcomes.length > 0);
}

/**
 * Teams, days and clusters without which a main estimate moves further than parts of their size do by chance:
 *
 *   u = shift / (SE sqrt(f / (1 - f))),  f the part's share of the weights
 *
 * (a part that holds the share f and differs from the rest by chance alone moves the estimate by that standard error when it is
 * left out). Told only past the limit that the largest of so many parts passes in 5 of 100 surveys, and only of parts that may
 * be told of: those whose scenario stands in the results.
 */
export function influential(world: World, told: readonly ScenarioResult[]): Influence[] {
  return world.headlines.flatMap((headline) => {
    const { value, variance, degreesOfFreedom } = headline.published;
    const error = Math.sqrt(variance);
    if (!(error > 1e-12) || !(degreesOfFreedom > 0)) return [];
    const { inDomain } = outcome(world.children, headline.estimate.outcome, world.rule);
    return partsOf(world).flatMap((part) => {
      const without = withoutEach(world, headline, part.codes, part.count);
      const shares = sharesOf(world, part.codes, part.count, inDomain);
      const limit = largestByChance(part.count, degreesOfFreedom);
      return [...without.keys()].flatMap((code): Influence[] => {
        const f = shares[code] ?? 0;
        const shift = (without[code] ?? Number.NaN) - value;
        const u = shift / (error * Math.sqrt(f / (1 - f)));
        if (!(Math.abs(u) > limit)) return [];
        const scenario = scenarioOf(part, code, shift, told);
        const of = scenario?.outcomes.find(
          ({ estimate, shift: own }) => estimate === headline.estimate.id && Math.abs(own - shift) < 1e-9,
        )?.of;
        if (scenario === undefined || of === undefined) return [];
        const { id: estimate } = headline.estimate;
        const { id, label } = scenario;
        return [{ estimate, scenario: id, by: part.name, label, of, shift, u, limit }];
      });
    });
  });
}

/** Scenarios that are choices of whoever analyses: limits of exclusion, weights, ages. */
export function choicesOf(told: readonly ScenarioResult[]): Consequence["choices"] {
  return told
    .filter(({ group }) => group === "exclusions" || group === "weights" || group === "ages-covered")
    .flatMap(({ id, label, outcomes }) =>
      outcomes.map(({ estimate, of, value, low, high, shift }) => ({
        ...{ estimate, of, scenario: id, label, value, low, high, shift },
      })),
    );
}
