// Writes templates/messages.md anew from the words of the program: after a change of a message that tells of a problem.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createServer } from "vite";

const root = new URL("../../", import.meta.url);
const server = await createServer({
  root: fileURLToPath(root),
  configFile: false,
  logLevel: "error",
  appType: "custom",
  optimizeDeps: { noDiscovery: true },
  server: { middlewareMode: true, ws: false, hmr: false, watch: null },
});
try {
  const { messagePage } = await server.ssrLoadModule("/tests/tools/message-page.ts");
  const words = JSON.parse(readFileSync(new URL("templates/locales/en.json", root), "utf8"));
  writeFileSync(new URL("templates/messages.md", root), messagePage(new Map(Object.entries(words))));
} finally {
  await server.close();
}
