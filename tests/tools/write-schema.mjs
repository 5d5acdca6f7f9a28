// Writes the JSON Schema of results.json (draft 2020-12) from the built src/results/schema.ts, for `npm run schema`.
// The same schema gives the same bytes; tests/results/schema.test.ts fails while the committed file is an older one.
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { z } from "zod";
import { resultsSchema } from "../../dist/results/schema.js";

const path = fileURLToPath(new URL("../../src/results/results.schema.json", import.meta.url));
const { $schema, ...schema } = z.toJSONSchema(resultsSchema, { target: "draft-2020-12" });
const named = { $schema, title: "results.json of Tareline, version 1", ...schema };
writeFileSync(path, `${JSON.stringify(named, null, 2)}\n`);

const biome = fileURLToPath(new URL("../../node_modules/@biomejs/biome/bin/biome", import.meta.url));
const formatted = spawnSync(process.execPath, [biome, "format", "--write", "--log-level=error", path], {
  stdio: ["ignore", "ignore", "inherit"],
});
if (formatted.status !== 0) throw new Error("The schema was written but could not be formatted.");
console.error("src/results/results.schema.json");
