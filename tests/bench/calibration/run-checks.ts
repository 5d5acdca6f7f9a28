import { checks } from "../../../src/checks/index.js";
import { runCheck } from "../../../src/checks/run.js";
import type { Children } from "../../../src/derive/children.js";
import type { CheckResult } from "../../../src/results/schema.js";
import type { SurveySettings } from "../../../src/settings/settings.js";

/** Every check's result. */
export const runChecks = (children: Children, settings: SurveySettings): CheckResult[] =>
  checks.map((check) => runCheck(check, children, settings).result);
