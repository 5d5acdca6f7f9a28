import { checks } from "../../src/checks/index.js";
import { runCheck } from "../../src/checks/run.js";
import { worldOf } from "../../src/consequence/run.js";
import type { World } from "../../src/consequence/scenario.js";
import { estimates } from "../../src/estimates/index.js";
import { exampleChildren, type WorldGiven } from "./example-world.js";

/** An invented survey with what the program's own checks find in it. */
export async function checkedWorld(given: WorldGiven): Promise<World> {
  const { children, settings } = await exampleChildren(given);
  const found = checks.map((check) => runCheck(check, children, settings).result);
  return worldOf(children, settings, estimates, found);
}
