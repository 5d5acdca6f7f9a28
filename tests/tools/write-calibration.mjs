// Writes docs/calibration.md anew: what the claims came to on invented surveys whose truth is known. Takes most of half an hour.
import { writeFileSync } from "node:fs";
import { withSource } from "./load-source.mjs";

const docs = new URL("../../docs/calibration.md", import.meta.url);
const [count = "500"] = process.argv.slice(2);
await withSource(
  "/tests/bench/calibration/calibration.bench.ts",
  async ({ calibrate, calibrationPage, seeds, tableOf }) => {
    const table = async (condition) => {
      const outcomes = await calibrate(Number(count), seeds[condition], condition);
      return tableOf(outcomes, seeds[condition], condition);
    };
    writeFileSync(docs, calibrationPage(await table("clean"), await table("faulty")));
  },
);
