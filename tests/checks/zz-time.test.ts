import { it, expect } from "vitest";
import { weightDigits } from "../../src/checks/weight-digits.js";
import { spread } from "../../src/checks/spread.js";
import { shape } from "../../src/checks/shape.js";
import { clustersDiffer } from "../../src/checks/clusters-differ.js";
import { teamsDiffer } from "../../src/checks/teams-differ.js";
import { resultOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
it("t", () => {
  const big = cleanSurvey({ seed: 1, clusters: 4000, perCluster: 25, teams: 40 });
  for (const c of [weightDigits, spread, shape, clustersDiffer, teamsDiffer]) { const t = Date.now(); const r = resultOf(c as any, big); console.log(c.id, r.reading, r.reason?.id, Date.now() - t); }
  expect(1).toBe(1);
}, 300000);
