// Writes sample-input/same-survey-five-ways anew: one invented survey in five kinds of files, each with its settings.
import { mkdirSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createServer } from "vite";

const folder = new URL("../../sample-input/same-survey-five-ways/", import.meta.url);
const server = await createServer({
  root: fileURLToPath(new URL("../../", import.meta.url)),
  configFile: false,
  logLevel: "error",
  appType: "custom",
  optimizeDeps: { noDiscovery: true },
  server: { middlewareMode: true, ws: false, hmr: false, watch: null },
});
try {
  const { fiveWaysFiles } = await server.ssrLoadModule("/tests/whole/five-ways-files.ts");
  mkdirSync(folder, { recursive: true });
  for (const { name, content } of fiveWaysFiles()) writeFileSync(new URL(name, folder), content);
} finally {
  await server.close();
}
