import { Bench } from "tinybench";
import { runsOf } from "../../src/consequence/repairs/draw.js";
import { runScenarios } from "../../src/consequence/run.js";
import { exampleFaults } from "../../src/example/files.js";
import { exampleWorld, found } from "../consequence/example-world.js";

/** Every kind of scenario at work: heaped heights of a team, weights and arm circumferences of all, recalled ages. */
const checks = [
  found("height-digits", [{ by: "team", label: "T4" }]),
  found("weight-digits"),
  found("arm-digits"),
  found("age-heaping", [{ by: "age-known-how", label: "recalled" }]),
];

const settings = { clustersInPopulation: null };

// Asked for: all scenarios of 1,000 children in under 2 s, of 20,000 in under 20 s.
const small = await exampleWorld({ seed: 3, size: 1000, clusters: 40, faults: exampleFaults, checks, settings });
const large = await exampleWorld({ seed: 3, size: 20_000, clusters: 800, faults: exampleFaults, checks, settings });

/** Scenarios, and the draws of the findings put right: tinybench suite for `npm run bench`. A copy of the world shares no prepared draws. */
export const consequenceBench = new Bench({ name: "consequence", time: 0, iterations: 3, warmupIterations: 1 })
  .add("1,000 children, all scenarios", () => {
    runScenarios({ ...small });
  })
  .add("1,000 children, findings put right", () => {
    runsOf({ ...small });
  })
  .add("20,000 children, all scenarios", () => {
    runScenarios({ ...large });
  })
  .add("20,000 children, findings put right", () => {
    runsOf({ ...large });
  });
