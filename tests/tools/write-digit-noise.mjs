// Writes src/stats/digit-noise-values.ts anew, after a change of the simulation: what chance alone gives for the usual digits.
import { writeFileSync } from "node:fs";
import { withSource } from "./load-source.mjs";

const fewest = 25;
const most = 150;

await withSource("/src/stats/digit-noise.ts", ({ simulateDigitNoise, simulateDissimilarityLimit }) => {
  const scales = [2, 5, 10].map((categories) => {
    const samples = Array.from({ length: most - fewest + 1 }, (_, i) => {
      const { score, dissimilarity } = simulateDigitNoise(fewest + i, categories);
      return `      [${score.mean}, ${score.upper95}, ${dissimilarity.upper95}],`;
    });
    const limit = simulateDissimilarityLimit(categories);
    return `  ${categories}: {\n    limit: ${limit},\n    samples: [\n${samples.join("\n")}\n    ],\n  },`;
  });
  const text = `// Made by tests/tools/write-digit-noise.mjs: do not edit.
/** The fewest readings listed: a check asks for no fewer. */
export const fewestListed = ${fewest};

interface Listed {
  /** 95th percentile of sqrt(n) times the dissimilarity, for n without end. */
  readonly limit: number;
  /** Of ${fewest}, ${fewest + 1} ... ${most} readings: mean and 95th percentile of the score, 95th percentile of the dissimilarity. */
  readonly samples: readonly (readonly [number, number, number])[];
}

/** What \`simulateDigitNoise\` and \`simulateDissimilarityLimit\` give, by the number of digits that the tool can show. */
export const digitNoiseValues: Readonly<Record<number, Listed | undefined>> = {
${scales.join("\n")}
};
`;
  writeFileSync(new URL("../../src/stats/digit-noise-values.ts", import.meta.url), text);
});
