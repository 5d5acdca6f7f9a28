import { describe, expect, it } from "vitest";
import { shareOfPercentage } from "../../src/results/main-estimates.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { children, kinds, problemsOf, surveyOf } from "../columns/make-table.js";

const parse = (text: string) => parseSurveyFile(`data: a.csv\n${text}`, "survey.yaml");

describe("percentages with their sign", () => {
  it("are shares, the very numbers that published limits are", () => {
    expect(shareOfPercentage("8%")).toBe(0.08);
    expect(shareOfPercentage(" 12,5 %")).toBe(0.125);
    expect(shareOfPercentage("15.0%")).toBe(0.15);
  });

  it.each(["8", "0.08", "0%", "100%", "-3%", "8%%", "", "eight"])("%j is none", (text) => {
    expect(shareOfPercentage(text)).toBeNull();
  });
});

describe("decision in survey.yaml", () => {
  it("gives limits with what hangs on them", async () => {
    const text =
      "decision:\n  - { estimate: wasting, limit: 8%, hangs-on-it: an appeal }\n  - { estimate: stunting, limit: 25% }\n";
    const survey = await surveyOf(children, `data: data.csv\n${text}`);
    expect(survey.settings.decisions).toEqual([
      { estimate: "wasting", limit: 0.08, about: "an appeal" },
      { estimate: "stunting", limit: 0.25, about: "" },
    ]);
    expect((await surveyOf(children, "data: data.csv\n")).settings.decisions).toBeUndefined();
  });

  it("names the line of a limit that is no percentage, and of one given twice", async () => {
    const problems = await problemsOf(() =>
      parse(
        "decision:\n  - estimate: wasting\n    limit: 0.08\n  - estimate: stunting\n    limit: 30%\n  - estimate: stunting\n    limit: 30.0%\n",
      ),
    );
    expect(kinds(problems)).toEqual(["settings-decision-limit", "settings-decision-twice"]);
    expect(problems.map(({ line }) => line)).toEqual([4, 8]);
  });

  it("refuses an estimate that is none, and a key that is not known", async () => {
    const wrong = await problemsOf(() => parse("decision:\n  - { estimate: hunger, limit: 8% }\n"));
    expect(wrong.length).toBe(1);
    expect(wrong[0]?.line).toBeGreaterThan(1);
    const key = await problemsOf(() => parse("decision:\n  - { estimate: wasting, limit: 8%, why: x }\n"));
    expect(key.length).toBe(1);
  });
});
