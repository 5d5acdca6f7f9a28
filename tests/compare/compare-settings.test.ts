import { describe, expect, it } from "vitest";
import {
  type CompareFileValues,
  compareFileJsonSchema,
  compareFileSchema,
  compareSettings,
  plainSettings,
} from "../../src/compare/compare-settings.js";
import { parseSettings } from "../../src/settings/settings-file.js";
import { problemsOf } from "../columns/make-table.js";

const parse = (text: string) =>
  parseSettings<CompareFileValues>(text, "compare.yaml", {
    schema: compareFileSchema,
    jsonSchema: compareFileJsonSchema,
    cross: () => [],
  });
const defaults = { name: "comparison", title: "Two surveys", language: "en" };

describe("compare.yaml", () => {
  it("states surveys with place, round, group, population and whether clusters were revisited", () => {
    const { values } = parse(`
title: Two rounds
language: fr
rule: around-mean
estimates: [wasting, stunting]
season-note: The rains came late.
surveys:
  - { file: a/results.json, place: Tazvin, round: 2024, group: North, population: 34900, clusters-revisited: true }
  - file: b.yaml
pairs:
  - { first: a/results.json, second: b.yaml }
tiles:
  - [Tazvin, .]
`);
    expect(compareSettings(values, defaults)).toEqual({
      name: "comparison",
      title: "Two rounds",
      language: "fr",
      rule: "around-mean",
      estimates: ["wasting", "stunting"],
      surveys: [
        {
          file: "a/results.json",
          place: "Tazvin",
          round: "2024",
          group: "North",
          population: 34_900,
          clustersRevisited: true,
        },
        { file: "b.yaml", place: null, round: null, group: null, population: null, clustersRevisited: false },
      ],
      pairs: [{ first: "a/results.json", second: "b.yaml" }],
      tiles: [["Tazvin", "."]],
      seasonNote: "The rains came late.",
    });
  });

  it("may say nothing but which files", () => {
    const { values } = parse("surveys:\n  - file: a.json\n  - file: b.json\n");
    expect(compareSettings(values, defaults)).toEqual(plainSettings(["a.json", "b.json"], defaults));
  });

  it("names the line of what is wrong, and the key that was meant", async () => {
    const problems = await problemsOf(() =>
      parse(
        "titel: A\nrule: loose\nsurveys:\n  - file: a.json\n    plaec: X\n  - round: 3\n  - file: b.json\n    population: -5\n",
      ),
    );
    const found = problems.map(({ kind, line, value, details }) => [kind, line, details?.suggestion ?? value]);
    expect(found).toEqual(
      expect.arrayContaining([
        ["settings-unknown-key", 1, "title"],
        ["settings-not-an-option", 2, "loose"],
        ["settings-unknown-key", 5, "place"],
        ["settings-missing-key", 6, "surveys > 1 > file"],
        ["settings-out-of-range", 8, "-5"],
      ]),
    );
    expect(found.length).toBe(5);
  });

  it("without surveys, or with none in the list, is refused with its line", async () => {
    for (const text of ["title: A\n", "surveys: []\n", "surveys: a.json\n"]) {
      const [problem] = await problemsOf(() => parse(text));
      expect(problem?.line).toBe(1);
    }
  });

  it("has a JSON Schema that names every key", () => {
    expect(Object.keys(compareFileJsonSchema().properties as object)).toEqual(Object.keys(compareFileSchema.shape));
  });
});
