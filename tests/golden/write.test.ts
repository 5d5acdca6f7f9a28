import { writeFileSync } from "node:fs";
import { it } from "vitest";
import { goldenTables } from "./golden-tables.js";

// Not a test of anything: `npm run golden` runs it to write the tables anew, after a change that is meant to move numbers.
it.runIf(process.env.TARELINE_WRITE_GOLDEN === "1")("writes the tables", async () => {
  for (const { name, rows } of await goldenTables()) {
    writeFileSync(new URL(`./${name}`, import.meta.url), `${rows.map((row) => row.join("\t")).join("\n")}\n`);
  }
});
