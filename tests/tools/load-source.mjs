// Gives a module of the sources to a tool, compiled on the way, and clears up behind it.
import { fileURLToPath } from "node:url";
import { createServer } from "vite";

/** Hands the module at `path`, from the project's folder, to `use`. `plugins`: what vite does beside. */
export async function withSource(path, use, plugins = []) {
  const server = await createServer({
    root: fileURLToPath(new URL("../../", import.meta.url)),
    configFile: false,
    logLevel: "error",
    appType: "custom",
    optimizeDeps: { noDiscovery: true },
    server: { middlewareMode: true, ws: false, hmr: false, watch: null },
    plugins,
  });
  try {
    await use(await server.ssrLoadModule(path));
  } finally {
    await server.close();
  }
}
