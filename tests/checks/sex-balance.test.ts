import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/checks/run.js";
import { sexBalance } from "../../src/checks/sex-balance/index.js";
import { cleanSurvey } from "./clean-survey.js";
import { faultySurveys } from "./faulty-surveys.js";
import { makeChildren, makeSettings } from "./make-children.js";

const run = (children: Parameters<typeof runCheck>[1], settings = makeSettings()) =>
  runCheck(sexBalance, children, settings).result;
const of = (result: ReturnType<typeof run>, id: string) => result.quantities.find((quantity) => quantity.id === id);

describe("sex-balance", () => {
  // 480 boys and 420 girls: ratio 1.143, Wilson interval 1.003 to 1.303; exact probabilities from SciPy 1.17.1 `binomtest`.
  const children = makeChildren({ count: 900, sex: (i) => (i < 480 ? 1 : 2) });

  it("gives the ratio with its interval", () => {
    const ratio = of(run(children), "boys-per-girl");
    expect(ratio?.value).toBeCloseTo(480 / 420, 12);
    expect(ratio?.interval?.low).toBeCloseTo(1.003, 3);
    expect(ratio?.interval?.high).toBeCloseTo(1.303, 3);
    expect(ratio?.chance?.expected).toBe(1.05);
  });

  it("depends on the balance that is expected", () => {
    const against = (boysPerGirl: number) =>
      of(
        run(children, makeSettings({ expectations: { boysPerGirl, underFiveMortality: 60, growthOfBirths: 0.02 } })),
        "boys-per-girl",
      )?.probability ?? Number.NaN;
    expect(against(1)).toBeCloseTo(0.04916136808348984, 10);
    expect(against(1.05)).toBeCloseTo(0.20534755688390144, 10);
  });

  it("allows for clusters that hold one sex", () => {
    const clustered = makeChildren({
      count: 900,
      sex: (i) => (Math.floor(i / 25) % 12 < 7 ? 1 : 2),
      cluster: (i) => `${Math.floor(i / 25)}`,
    });
    const free = makeChildren({ count: 900, sex: (i) => (Math.floor(i / 25) % 12 < 7 ? 1 : 2) });
    expect(of(run(clustered), "sex-balance-design-effect")?.value).toBeGreaterThan(20);
    expect(run(clustered).reading).toBe("expected");
    expect(run(free).reading).toBe("explain");
  });

  it("finds a survey and a team out of balance", () => {
    expect(run(faultySurveys["too many boys"]).finding.id).toBe("checks.sex-balance.finding.doubt");
    const team = run(faultySurveys["all boys in one team"]);
    expect(team.groups.filter((group) => group.reading === "doubt").map((group) => group.label)).toEqual(["T4"]);
    expect(run(faultySurveys["only boys"]).finding.id).toBe("checks.sex-balance.finding.one-sex");
  });

  it("never reads a small team", () => {
    const clean = cleanSurvey({ seed: 21 });
    const sex = clean.sex.map((code, i) => (i < 20 ? 1 : code));
    const small = makeChildren({ count: 900, sex, team: (i) => (i < 20 ? "S" : "L") });
    expect(run(small).groups.some((group) => group.label === "S")).toBe(false);
    expect(run(small).reading).toBe("expected");
  });
});
