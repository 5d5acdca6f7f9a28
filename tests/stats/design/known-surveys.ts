import { makeDesign, type SurveyDesign } from "../../../src/stats/design/survey-design.js";
import { coded, knownColumns, knownValues } from "../close.js";

/** One design of survey-estimation.json with its data. */
export interface KnownSurvey {
  readonly name: string;
  readonly design: SurveyDesign;
  readonly column: (name: string) => Float64Array;
  readonly schoolType: readonly string[];
  // biome-ignore lint/suspicious/noExplicitAny: the file is deep and irregular; each test reads what it names.
  readonly expected: any;
}

interface Recipe {
  readonly file: string;
  readonly cluster?: string;
  readonly stratum?: string;
  readonly weight?: string;
  readonly population?: string;
}

const recipes: Readonly<Record<string, Recipe>> = {
  clus1_weighted_fpc: { file: "apiclus1.csv", cluster: "dnum", weight: "pw", population: "fpc" },
  clus1_weighted_nofpc: { file: "apiclus1.csv", cluster: "dnum", weight: "pw" },
  clus1_unweighted: { file: "apiclus1.csv", cluster: "dnum" },
  strat_weighted_fpc: { file: "apistrat.csv", stratum: "stype", weight: "pw", population: "fpc" },
  strat_weighted_nofpc: { file: "apistrat.csv", stratum: "stype", weight: "pw" },
  clus2_firststage_nofpc: { file: "apiclus2.csv", cluster: "dnum", weight: "pw" },
  srs_unweighted: { file: "apistrat.csv" },
};

export const surveyNames = Object.keys(recipes);

export function knownSurvey(name: string): KnownSurvey {
  const recipe = recipes[name] as Recipe;
  const columns = knownColumns(recipe.file);
  const text = (column: string): string[] => columns.get(column) as string[];
  const codes = (column: string | undefined): Int32Array | null =>
    column === undefined ? null : coded(text(column)).codes;
  const stratum = codes(recipe.stratum);
  const count = text("cds").length;
  let population: Float64Array | null = null;
  if (recipe.population !== undefined) {
    const given = text(recipe.population);
    population = new Float64Array(stratum === null ? 1 : Math.max(...stratum) + 1);
    for (let i = 0; i < count; i++) population[stratum === null ? 0 : (stratum[i] as number)] = Number(given[i]);
  }
  const cluster = codes(recipe.cluster);
  // Every school of a district was measured, wherever districts were drawn from a finite number.
  const whole = cluster?.map((code) => cluster.filter((other) => other === code).length) ?? null;
  const design = makeDesign({
    count,
    cluster,
    stratum,
    weight: recipe.weight === undefined ? null : text(recipe.weight).map(Number),
    clustersInPopulation: population,
    membersInPopulation: whole,
  });
  return {
    name,
    design,
    column: (column) =>
      Float64Array.from(text(column), (cell) => (cell === "" || cell === "NA" ? Number.NaN : Number(cell))),
    schoolType: text("stype"),
    expected: knownValues("survey-estimation.json")[name],
  };
}

/** 1 where the test holds. */
export function domain(count: number, holds: (i: number) => boolean): Uint8Array {
  return Uint8Array.from({ length: count }, (_, i) => (holds(i) ? 1 : 0));
}
