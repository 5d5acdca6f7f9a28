import type { Spec as VegaSpec } from "vega";
import { plan } from "./plan.js";
import { theme } from "./theme.js";

/** The plan of all pictures as Vega draws it. The build puts it here compiled, so that Vega-Lite need not be loaded for it. */
export async function compiledPlan(): Promise<VegaSpec> {
  const vegaLite = await import("vega-lite");
  return vegaLite.compile(plan as unknown as Parameters<typeof vegaLite.compile>[0], { config: theme.config }).spec;
}
