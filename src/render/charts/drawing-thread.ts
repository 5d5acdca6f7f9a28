import { parentPort } from "node:worker_threads";
import type { Drawn, ToDraw } from "./draw-in-thread.js";
import { prepareDrawing, svgOf } from "./draw-svg.js";

/** A thread that draws what it is sent; it loads its libraries as soon as it starts. */
const port = parentPort;
if (port !== null) {
  void prepareDrawing().catch(() => {});
  port.on("message", ({ id, picture }: ToDraw) => {
    svgOf(picture).then(
      (svg) => port.postMessage({ id, svg } satisfies Drawn),
      (error: unknown) => port.postMessage({ id, failure: String(error) } satisfies Drawn),
    );
  });
}
