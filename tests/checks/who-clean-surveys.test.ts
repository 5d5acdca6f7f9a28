import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/checks/run.js";
import { cleanSurvey } from "./clean-survey.js";
import { makeSettings } from "./make-children.js";
import { whoChecks } from "./who-checks.js";

const surveys = 200;

describe("clean surveys", () => {
  it("are rarely flagged: 'explain' or worse in under 8 in 100, 'doubt' in under 2 in 100, by each check", () => {
    const flagged = new Map(whoChecks.map(({ id }) => [id, { explain: 0, doubt: 0, unknown: 0 }]));
    for (let seed = 1; seed <= surveys; seed++) {
      const children = cleanSurvey({ seed, monthsOnly: seed % 2 === 0 });
      for (const check of whoChecks) {
        const { reading } = runCheck(check, children, makeSettings()).result;
        const counts = flagged.get(check.id);
        if (counts !== undefined && reading !== "expected") counts[reading]++;
      }
    }
    for (const [id, { explain, doubt, unknown }] of flagged) {
      expect([id, unknown]).toEqual([id, 0]);
      expect([id, (explain + doubt) / surveys < 0.08, explain + doubt]).toEqual([id, true, explain + doubt]);
      expect([id, doubt / surveys < 0.02, doubt]).toEqual([id, true, doubt]);
    }
  });
});
