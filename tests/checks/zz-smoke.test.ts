import { it } from "vitest";
import { runCheck } from "../../src/checks/run.js";
import { missingValues } from "../../src/checks/missing-values.js";
import { duplicateRows } from "../../src/checks/duplicate-rows.js";
import { sexBalance } from "../../src/checks/sex-balance.js";
import { ageGroups } from "../../src/checks/age-groups.js";
import { youngerOlderRatio } from "../../src/checks/younger-older-ratio.js";
import { ageHeaping } from "../../src/checks/age-heaping.js";
import { measuringPosition } from "../../src/checks/measuring-position.js";
import { implausibleValues } from "../../src/checks/implausible-values.js";
import { cleanSurvey } from "./clean-survey.js";
import { makeSettings } from "./make-children.js";
it("smoke", () => {
  const all = [missingValues, duplicateRows, sexBalance, ageGroups, youngerOlderRatio, ageHeaping, measuringPosition, implausibleValues];
  const tally: Record<string, Record<string, number>> = {};
  const t0 = performance.now();
  const time: Record<string, number> = {};
  for (let seed = 1; seed <= 200; seed++) {
    const children = cleanSurvey({ seed, monthsOnly: seed % 2 === 0 });
    for (const check of all) {
      const t = performance.now();
      const { result } = runCheck(check as never, children, makeSettings());
      time[check.id] = (time[check.id] ?? 0) + performance.now() - t;
      tally[check.id] ??= {};
      tally[check.id]![result.reading] = (tally[check.id]![result.reading] ?? 0) + 1;
      if (result.reading !== "expected" ) console.log(seed, check.id, result.reading, JSON.stringify(result.finding), result.groups.filter(g=>g.reading!=="expected").map(g=>g.label+g.by+g.reading).join());
      if (seed===1) console.log(check.id, JSON.stringify(result.quantities));
    }
  }
  console.log(JSON.stringify(tally, null, 1), performance.now() - t0, time);
});
