// Writes tests/golden anew from the sample surveys, for `npm run golden`: after a change that is meant to move numbers.
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createServer } from "vite";

const server = await createServer({
  root: fileURLToPath(new URL("../../", import.meta.url)),
  configFile: false,
  logLevel: "error",
  appType: "custom",
  optimizeDeps: { noDiscovery: true },
  server: { middlewareMode: true, ws: false, hmr: false, watch: null },
});
try {
  const { goldenTables } = await server.ssrLoadModule("/tests/golden/golden-tables.ts");
  for (const { name, rows } of await goldenTables()) {
    const text = `${rows.map((row) => row.join("\t")).join("\n")}\n`;
    writeFileSync(new URL(`../golden/${name}`, import.meta.url), text);
  }
} finally {
  await server.close();
}
