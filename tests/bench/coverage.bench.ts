import { recover, recoveries } from "../consequence/coverage.js";

const percent = (share: number): string => (100 * share).toFixed(2).padStart(7);

/**
 * Known faults planted in invented surveys and taken out again by their scenarios: how far the estimate is off before
 * and after, and how often the 95 % interval holds the truth. Prints a table; 300 surveys a fault take several minutes.
 */
export async function printCoverage(repeats = 300, print: (line: string) => void = console.log): Promise<void> {
  print("truth, mean error before and after (points), coverage of the 95 % interval before and after (%)");
  for (const recovery of recoveries) {
    for (const row of await recover(recovery, repeats)) {
      const numbers = [row.truth, row.faultyBias, row.scenarioBias, row.faultyCoverage, row.scenarioCoverage];
      print(`${numbers.map(percent).join(" ")}  ${row.name}: ${row.estimate}`);
    }
  }
}
