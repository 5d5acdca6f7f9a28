import { compiledPlan } from "./compiled-plan.js";
import type { Picture } from "./picture.js";
import { planRows } from "./plan.js";
import { textWidth } from "./text-width.js";

/** A text item as Vega hands it to be measured. */
interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: number | string;
}

/** Vega with the plan of all pictures, loaded at the first chart, with text measured from the embedded face instead of guessed. */
async function loadVega() {
  const [vega, plan] = await Promise.all([import("vega"), compiledPlan()]);
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
  return { vega, runtime: vega.parse(plan) };
}
let loading: ReturnType<typeof loadVega> | undefined;

/** Loads what drawing needs, so that the first chart does not wait for it. */
export async function prepareDrawing(): Promise<void> {
  loading ??= loadVega();
  await loading;
}

/** One view draws one picture after the other: it is set up once, and only its rows change. */
async function startView() {
  loading ??= loadVega();
  const { vega, runtime } = await loading;
  let failed = false;
  // What Vega stumbles over it would print with its stack.
  const logger = vega.logger(vega.None);
  logger.error = () => {
    failed = true;
    return logger;
  };
  return { view: new vega.View(runtime, { renderer: "none", logger }), hasFailed: () => failed };
}
let starting: ReturnType<typeof startView> | undefined;

async function draw(picture: Picture): Promise<string> {
  starting ??= startView();
  const { view, hasFailed } = await starting;
  try {
    // The room that names take beside the frames is found anew, though the frames may be as large as those before.
    view.width(picture.width).height(picture.height).resize();
    for (const [name, rows] of Object.entries(planRows(picture))) view.data(name, [...rows]);
    const svg = await view.toSVG();
    if (hasFailed()) throw new Error("A picture cannot be drawn.");
    return svg;
  } catch (error) {
    // Nobody knows what a failure leaves behind: the next picture begins with a view of its own.
    starting = undefined;
    view.finalize();
    throw error;
  }
}

let last: Promise<unknown> = Promise.resolve();

/** One picture as an SVG string, without browser or canvas; each waits for the one before it. */
export function svgOf(picture: Picture): Promise<string> {
  const drawn = last.then(() => draw(picture));
  last = drawn.catch(() => {});
  return drawn;
}
