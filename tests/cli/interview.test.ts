import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { describeCommand } from "../../src/cli/describe-command.js";
import type { Effects } from "../../src/cli/effects.js";
import { emptyFolder } from "./run-here.js";
import { csvOf, smallRows } from "./small-survey.js";

/** A survey in which the sex is written as 0 and 1, and two columns could be the weight. */
function unclearSurvey(folder: string): string {
  const rows = smallRows(30).map(({ weight = "", sex, ...row }) => ({
    ...row,
    sex: sex === "m" ? "0" : "1",
    "first/weight": weight,
    "again/weight": weight,
  }));
  const path = join(folder, "survey.csv");
  writeFileSync(path, csvOf(rows));
  return path;
}

/** Somebody at a terminal who types these lines, one after the other, and then ends the input. */
function person(lines: readonly string[]) {
  const said: string[] = [];
  const questions: string[] = [];
  let out = "";
  const effects: Effects = {
    out: (text) => {
      out += text;
    },
    say: (text) => void said.push(text),
    watched: true,
    environment: {},
    exitWith: () => {},
    ask: async (question) => {
      questions.push(question);
      return lines[questions.length - 1] ?? null;
    },
  };
  return { effects, said, questions, out: () => out };
}

describe("describe at a terminal", () => {
  it("asks with numbered choices and writes the answers into the settings", async () => {
    const folder = emptyFolder();
    const data = unclearSurvey(folder);
    const { effects, said, questions } = person(["2", "1"]);
    await describeCommand(data, { out: join(folder, "survey.yaml") }, effects);
    const text = readFileSync(join(folder, "survey.yaml"), "utf8");
    expect(text).toContain("column: again/weight");
    expect(text).toMatch(/male: \["0"\]\n\s*female: \["1"\]/);
    expect(text).not.toContain('"?"');
    expect(questions.length).toBe(2);
    expect(said.filter((line) => /^ {2}[12] {2}\S/.test(line)).length).toBe(4);
  });

  it("puts a question again after an answer that is no choice, and leaves open what is not answered", async () => {
    const folder = emptyFolder();
    const data = unclearSurvey(folder);
    const { effects, questions, out } = person(["weight", "9", "1", ""]);
    await describeCommand(data, {}, effects);
    expect(questions.length).toBe(4);
    expect(out()).toContain("column: first/weight");
    expect(out()).toMatch(/codes: "\?"/);
    const gone = person([]);
    await describeCommand(data, {}, gone.effects);
    // The input has ended: nothing is taken for an answer, and nothing more is asked.
    expect(gone.questions.length).toBe(1);
    expect(gone.out().match(/"\?"/g)?.length).toBe(2);
  });

  it("asks nothing in a pipe", async () => {
    const data = unclearSurvey(emptyFolder());
    const { effects, said, questions, out } = person(["1", "1"]);
    const { ask: _, ...piped } = effects;
    await describeCommand(data, {}, piped);
    expect([said, questions]).toEqual([[], []]);
    expect(out().match(/"\?"/g)?.length).toBe(2);
  });
});
