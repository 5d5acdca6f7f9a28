import { textWidth } from "./text-width.js";
import { type Spec, theme } from "./theme.js";

/** A text item as Vega hands it to be measured. */
interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: number | string;
}

/** Vega and Vega-Lite, loaded at the first chart, with text measured from the embedded face instead of guessed. */
async function loadVega() {
  const [vega, vegaLite] = await Promise.all([import("vega"), import("vega-lite")]);
  const metrics = (
    vega as unknown as {
      textMetrics: { width: (item: TextItem, text: unknown) => number };
    }
  ).textMetrics;
  metrics.width = (item, text) =>
    textWidth(
      String(text ?? ""),
      item.fontSize ?? 11,
      Number(item.fontWeight) >= 600 || item.fontWeight === "bold" ? 600 : 400,
    );
  return { vega, vegaLite };
}
let loading: ReturnType<typeof loadVega> | undefined;

/** Loads what drawing needs, so that the first chart does not wait for it. */
export async function prepareDrawing(): Promise<void> {
  loading ??= loadVega();
  await loading;
}

/** One specification as an SVG string, without browser or canvas. */
export async function svgOf(spec: Spec): Promise<string> {
  loading ??= loadVega();
  const { vega, vegaLite } = await loading;
  const compiled = vegaLite.compile({ ...spec } as unknown as Parameters<typeof vegaLite.compile>[0], {
    config: theme.config,
    logger: vega.logger(vega.Error),
  });
  // What Vega stumbles over, in results that were changed by hand, it would print with its stack.
  const logger = vega.logger(vega.None);
  const view = new vega.View(vega.parse(compiled.spec), { renderer: "none", logger });
  try {
    return await view.toSVG();
  } finally {
    view.finalize();
  }
}
