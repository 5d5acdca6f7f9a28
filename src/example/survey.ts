import { plantFaults } from "./faults.js";
import { measure } from "./measure.js";
import type { ExampleOptions } from "./options.js";
import { planClusters, quillmar } from "./place.js";
import type { FieldRecord } from "./record.js";
import { streamsOf } from "./streams.js";
import { type TrueChild, trueChildren } from "./truth.js";

/** An invented survey: what the teams wrote down, and what is true. */
export interface ExampleSurvey {
  readonly options: ExampleOptions;
  /** In the order of the file. */
  readonly records: readonly FieldRecord[];
  /** The children behind the records; `record.child` points here. */
  readonly children: readonly TrueChild[];
}

/**
 * An invented two-stage cluster survey: children of an invented population, measured by six careful teams in twelve
 * days, with the faults asked for planted afterwards. The same options give the same survey; surveys of different seeds
 * share no random numbers.
 */
export function generateSurvey(options: ExampleOptions): ExampleSurvey {
  const { seed, size = 900, clusters = 36, fieldwork = quillmar, faults = {} } = options;
  if (!(Number.isInteger(clusters) && clusters >= 6)) throw new RangeError(`clusters: 6 or more, not ${clusters}`);
  if (!(size >= 2 * clusters)) throw new RangeError(`size: at least two children a cluster, not ${size}`);
  const streams = streamsOf(seed);
  const children = trueChildren(size, planClusters(clusters, fieldwork), fieldwork, streams);
  const measured = measure(children, fieldwork, streams);
  return { options, children, records: plantFaults(measured, children, faults, streams) };
}
