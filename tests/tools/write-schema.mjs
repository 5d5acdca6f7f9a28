// Writes the JSON Schemas (draft 2020-12) of what the program writes, from the built src/results, for `npm run schema`. The
// same schema gives the same bytes; tests/results/schema.test.ts fails while a committed file is an older one.
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { z } from "zod";
import { comparisonSchema } from "../../dist/results/comparison.js";
import { resultsSchema } from "../../dist/results/schema.js";

const written = [
  { file: "results", title: "results.json of Tareline, version 3", schema: resultsSchema },
  { file: "comparison", title: "comparison.json of Tareline, version 1", schema: comparisonSchema },
];
for (const { file, title, schema: source } of written) {
  const path = fileURLToPath(new URL(`../../src/results/${file}.schema.json`, import.meta.url));
  const { $schema, ...schema } = z.toJSONSchema(source, { target: "draft-2020-12" });
  writeFileSync(path, `${JSON.stringify({ $schema, title, ...schema }, null, 2)}\n`);
  const biome = fileURLToPath(new URL("../../node_modules/@biomejs/biome/bin/biome", import.meta.url));
  const formatted = spawnSync(process.execPath, [biome, "format", "--write", "--log-level=error", path], {
    stdio: ["ignore", "ignore", "inherit"],
  });
  if (formatted.status !== 0) throw new Error("The schema was written but could not be formatted.");
  console.error(`src/results/${file}.schema.json`);
}
