// Writes tests/golden anew from the sample surveys, for `npm run golden`: after a change that is meant to move numbers.
import { writeFileSync } from "node:fs";
import { withSource } from "./load-source.mjs";

await withSource("/tests/golden/golden-tables.ts", async ({ goldenTables }) => {
  for (const { name, rows } of await goldenTables()) {
    const text = `${rows.map((row) => row.join("\t")).join("\n")}\n`;
    writeFileSync(new URL(`../golden/${name}`, import.meta.url), text);
  }
});
