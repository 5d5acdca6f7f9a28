// Writes docs/checks.md anew: the page about every check, from the program's own words and the invented survey.
import { mkdirSync, writeFileSync } from "node:fs";
import { withSource } from "./load-source.mjs";

const docs = new URL("../../docs/", import.meta.url);
await withSource("/tests/tools/check-pages.ts", async ({ checkPages }) => {
  mkdirSync(docs, { recursive: true });
  writeFileSync(new URL("checks.md", docs), await checkPages());
});
