import { expect, it } from "vitest";
import { exampleChildren } from "./example-children.js";
import { driftScores, drifts } from "../../src/checks/team-drift.js";
import { intraclass } from "../../src/stats/intraclass.js";
import { momentsOf } from "../../src/stats/moments.js";
it("d", () => {
  for (const seed of [1,2,3,20241007]) {
    const c = exampleChildren(seed);
    const v = driftScores(c, "weight").values;
    const w = c.indices["weight-for-height"].z;
    const i = intraclass(v, c.cluster!.codes, c.cluster!.labels.length);
    console.log(momentsOf(w).standardDeviation, momentsOf(v).n, momentsOf(v).standardDeviation, i.estimate, i.f, intraclass(w, c.cluster!.codes, c.cluster!.labels.length).estimate);
    console.log(drifts(c,"weight").teams.map(t=>[t.n,(t.high-t.low)/3.95, t.days.map(d=>d.day).join(" ")]).join("\n"));
  }
  expect(1).toBe(1);
});
