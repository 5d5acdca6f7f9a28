// Writes templates/messages.md and the ids of messages as a type anew from the words of the program: after a change of words.
import { readFileSync, writeFileSync } from "node:fs";
import { withSource } from "./load-source.mjs";

const templates = new URL("../../templates/", import.meta.url);
await withSource("/tests/tools/message-page.ts", ({ messagePage, messageIdType }) => {
  const words = JSON.parse(readFileSync(new URL("locales/en.json", templates), "utf8"));
  writeFileSync(new URL("messages.md", templates), messagePage(new Map(Object.entries(words))));
  writeFileSync(new URL("../src/results/message-ids.ts", templates), messageIdType(Object.keys(words)));
});
