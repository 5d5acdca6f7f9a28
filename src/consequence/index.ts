import { ages } from "./ages.js";
import { agesCovered } from "./ages-covered.js";
import { digits } from "./digits.js";
import { duplicates } from "./duplicates.js";
import { exclusions } from "./exclusions.js";
import { influence } from "./influence.js";
import { missing } from "./missing.js";
import { position } from "./position.js";
import type { ScenarioFile } from "./scenario.js";
import { spread } from "./spread.js";
import { together } from "./together.js";
import { weights } from "./weights.js";

/** Every file of scenarios, in the order of the report. */
export const scenarioFiles: readonly ScenarioFile[] = [
  exclusions,
  agesCovered,
  weights,
  influence,
  duplicates,
  digits,
  ages,
  position,
  missing,
  spread,
  together,
];
