// Writes templates/messages.md anew from the words of the program: after a change of a message that tells of a problem.
import { readFileSync, writeFileSync } from "node:fs";
import { withSource } from "./load-source.mjs";

const templates = new URL("../../templates/", import.meta.url);
await withSource("/tests/tools/message-page.ts", ({ messagePage }) => {
  const words = JSON.parse(readFileSync(new URL("locales/en.json", templates), "utf8"));
  writeFileSync(new URL("messages.md", templates), messagePage(new Map(Object.entries(words))));
});
