import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { againstChance } from "./against-chance.js";
import { categoryShares } from "./category-shares.js";
import { countsOver } from "./counts-over.js";
import type { Figure } from "./figure.js";
import { intervals } from "./intervals.js";
import { lines } from "./lines.js";
import { prevalenceBands } from "./prevalence-bands.js";
import { rounds } from "./rounds.js";
import { tiles } from "./tiles.js";
import { zDistribution } from "./z-distribution.js";

/** The pictures of a chart: usually one, more where the parts have axes of their own or would not fit a page. */
export function figuresOf(chart: Chart, words: Words): readonly Figure[] {
  switch (chart.kind) {
    case "category-shares":
      return categoryShares(chart, words);
    case "z-distribution":
      return zDistribution(chart, words);
    case "counts-over":
      return countsOver(chart, words);
    case "intervals":
      return intervals(chart, words);
    case "prevalence-bands":
      return prevalenceBands(chart, words);
    case "lines":
      return lines(chart, words);
    case "rounds":
      return rounds(chart, words);
    case "against-chance":
      return againstChance(chart, words);
    case "tiles":
      return tiles(chart, words);
  }
}
