import { expect, it } from "vitest";
import { cleanSurvey } from "./clean-survey.js";
import { teamsDifferNumbers } from "../../src/checks/team-findings.js";
import { drifts } from "../../src/checks/team-drift.js";

it("sim", () => {
  let any = 0, below = {l:0,ln:0,w:0,wn:0,h:0,hn:0};
  const R = 300; let fl=0, fd=0, sew=0;
  for (let r = 0; r < R; r++) {
    const c = cleanSurvey({ seed: 1000 + r, standardDeviation: 1 + 0.1 * (r % 2) });
    const t = teamsDifferNumbers(c)!;
    if (t.findings.some((f) => f.reading !== "expected")) any++;
    if (t.findings.some((f) => f.reading !== "expected" && f.kind==="level")) fl++;
    if (t.findings.some((f) => f.reading !== "expected" && f.kind==="drift")) fd++;
    for (const l of t.levels) for (const x of l.teams) { below.ln++; if (x.probability < 0.05) below.l++; }
    for (const d of t.drifts) { if (d.measure === "weight") { below.wn++; if (d.probability < .05) below.w++; sew += (d.high-d.low)/4.08/ (12*R/2) } else { below.hn++; if (d.probability < .05) below.h++; } }
  }
  console.log({any, fl, fd}, below.l/below.ln, below.w/below.wn, below.h/below.hn, "se slope", sew);
  const c = cleanSurvey({seed: 5});
  console.log(drifts(c,"weight").teams.map(t=>[t.n,t.days.length,t.slope,t.perDay, t.perDay/t.slope,t.probability]), drifts(c,"height").teams.map(t=>[t.perDay/t.slope]));
  expect(1).toBe(1);
}, 600000);
