import { ages } from "./ages.js";
import { agesCovered } from "./ages-covered.js";
import { digits } from "./digits.js";
import { duplicates } from "./duplicates.js";
import { exclusions } from "./exclusions.js";
import { influence } from "./influence.js";
import { missing } from "./missing.js";
import { position } from "./position.js";
import type { ScenarioFile, ScenarioFileId, ScenarioGroup } from "./scenario.js";
import { spread } from "./spread.js";
import { together } from "./together.js";
import { weights } from "./weights.js";

/** A file of scenarios in the list: its id, and the group its scenarios stand in. */
export interface ListedFile {
  readonly id: ScenarioFileId;
  readonly group: ScenarioGroup;
  readonly scenarios: ScenarioFile;
}

/** Every file of scenarios, in the order of the report. */
export const scenarioFiles: readonly ListedFile[] = [
  { id: "exclusions", group: "exclusions", scenarios: exclusions },
  { id: "ages-covered", group: "ages-covered", scenarios: agesCovered },
  { id: "weights", group: "weights", scenarios: weights },
  { id: "influence", group: "influence", scenarios: influence },
  { id: "duplicates", group: "influence", scenarios: duplicates },
  { id: "digits", group: "digits", scenarios: digits },
  { id: "ages", group: "ages", scenarios: ages },
  { id: "position", group: "position", scenarios: position },
  { id: "missing", group: "missing", scenarios: missing },
  { id: "spread", group: "spread", scenarios: spread },
  { id: "together", group: "together", scenarios: together },
];
